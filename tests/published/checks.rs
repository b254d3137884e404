//! Tolerances of check dimensions.

use matchmark_core::document::Class;
use matchmark_core::sheets::linear_tolerance;

#[test]
fn linear_tolerances_of_iso_13920() {
    // ISO 13920, linear dimensions, +/- mm; memory.
    let table = [
        (2.0, 30.0, [1.0, 1.0, 1.0, 1.0]),
        (30.1, 120.0, [1.0, 2.0, 3.0, 4.0]),
        (120.1, 400.0, [1.0, 2.0, 4.0, 7.0]),
        (400.1, 1000.0, [2.0, 3.0, 6.0, 9.0]),
        (1000.1, 2000.0, [3.0, 4.0, 8.0, 12.0]),
        (2000.1, 4000.0, [4.0, 6.0, 11.0, 16.0]),
        (4000.1, 8000.0, [5.0, 8.0, 14.0, 21.0]),
        (8000.1, 12000.0, [6.0, 10.0, 18.0, 27.0]),
    ];
    for (from, to, figures) in table {
        for (class, figure) in [Class::A, Class::B, Class::C, Class::D].into_iter().zip(figures) {
            assert_eq!(linear_tolerance(class, from), Some(figure), "{from}");
            assert_eq!(linear_tolerance(class, to), Some(figure), "{to}");
        }
    }
    assert_eq!(linear_tolerance(Class::A, 1.0), None);
    assert_eq!(linear_tolerance(Class::A, 12_000.1), None);
}
