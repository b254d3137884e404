//! Tolerances for welded constructions: ISO 13920, linear dimensions (table from memory).

use crate::document::Class;

/// Upper limit of each range of nominal lengths, mm, and the figures of classes A to D, mm.
const TABLE: [(f64, [f64; 4]); 8] = [
    (30.0, [1.0, 1.0, 1.0, 1.0]),
    (120.0, [1.0, 2.0, 3.0, 4.0]),
    (400.0, [1.0, 2.0, 4.0, 7.0]),
    (1_000.0, [2.0, 3.0, 6.0, 9.0]),
    (2_000.0, [3.0, 4.0, 8.0, 12.0]),
    (4_000.0, [4.0, 6.0, 11.0, 16.0]),
    (8_000.0, [5.0, 8.0, 14.0, 21.0]),
    (12_000.0, [6.0, 10.0, 18.0, 27.0]),
];

/// What a length of a welded construction may be off by, mm, to ISO 13920; `None` outside 2 to 12,000 mm.
#[must_use]
pub fn linear_tolerance(class: Class, nominal: f64) -> Option<f64> {
    let column = match class {
        Class::A => 0,
        Class::B => 1,
        Class::C => 2,
        Class::D => 3,
    };
    let row = TABLE.iter().find(|(most, _)| nominal <= *most).filter(|_| nominal >= 2.0)?;
    Some(row.1[column])
}
