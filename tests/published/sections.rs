//! Mass, area and surface of tubes against published section tables.

use matchmark_core::frame::{Sawing, Section};
use matchmark_core::geometry::Profile;

fn section(profile: Profile) -> Section {
    Section {
        name: String::new(),
        profile,
        material: String::new(),
        density: 7850.0,
        tensile: None,
        springback: None,
        clamp: None,
        stock: None,
        sawing: Sawing::default(),
    }
}

fn tube(od: f64, wall: f64) -> Section {
    section(Profile::Round { outer: od / 2.0, wall })
}

/// Cold formed: outer corner radius 2.0 T and inner 1.0 T up to 6 mm (EN 10219-2, section properties; memory).
fn cold_formed([width, height, wall]: [f64; 3]) -> Section {
    section(Profile::Rect { half_width: height / 2.0, half_height: width / 2.0, corner: 2.0 * wall, wall })
}

/// Three significant figures, as the tables print them.
fn three_figures(value: f64) -> f64 {
    let scale = 10f64.powf(2.0 - value.abs().log10().floor());
    (value * scale).round() / scale
}

#[test]
fn mass_per_metre_of_en_10220() {
    // EN 10220, table of masses per unit length; memory.
    let table = [
        (21.3, 2.0, 0.952),
        (26.9, 2.3, 1.40),
        (33.7, 2.6, 1.99),
        (42.4, 2.6, 2.55),
        (48.3, 3.2, 3.56),
        (60.3, 3.6, 5.03),
        (76.1, 2.9, 5.24),
        (88.9, 3.2, 6.76),
        (114.3, 4.5, 12.2),
    ];
    for (od, wall, mass) in table {
        assert_eq!(three_figures(tube(od, wall).mass_per_metre()), mass, "{od} x {wall}");
    }
}

#[test]
fn mass_and_area_of_en_10219_and_en_10210() {
    // Hollow section tables after EN 10219-2 (cold formed) and EN 10210-2 (hot finished), UK edition, as carried by the
    // PyPI package `steelsnakes` 0.0.1a11: kg/m and cm2.
    let table = [
        (33.7, 3.0, 2.27, 2.89),
        (42.4, 3.0, 2.91, 3.71),
        (48.3, 3.0, 3.35, 4.27),
        (60.3, 3.0, 4.24, 5.40),
        (42.4, 3.2, 3.09, 3.94),
        (48.3, 3.2, 3.56, 4.53),
        (48.3, 5.0, 5.34, 6.80),
        (60.3, 3.2, 4.51, 5.74),
    ];
    for (od, wall, mass, area) in table {
        assert_eq!(three_figures(tube(od, wall).mass_per_metre()), mass, "{od} x {wall}");
        assert_eq!(three_figures(tube(od, wall).profile.area() / 100.0), area, "{od} x {wall}");
    }
}

#[test]
fn the_formula_of_en_10220() {
    // EN 10220: M = 0.0246615 (D - T) T for 7.85 kg/dm3, as quoted by a pipe supplier's article.
    for (od, wall) in [(45.0, 2.5), (50.0, 2.0), (38.0, 2.5), (40.0, 2.0), (25.0, 1.5)] {
        let formula = 0.024_661_5 * (od - wall) * wall;
        assert!((tube(od, wall).mass_per_metre() / formula - 1.0).abs() < 1e-6, "{od} x {wall}");
    }
}

#[test]
fn mass_area_and_surface_of_square_and_rectangular_sections_of_en_10219() {
    // Hollow section tables after EN 10219-2, UK edition, as carried by the PyPI package `steelsnakes` 0.0.1a11: kg/m, cm2, m2/m.
    let table = [
        ([25.0, 25.0, 2.0], 1.36, 1.74, 0.093),
        ([25.0, 25.0, 2.5], 1.64, 2.09, 0.091),
        ([30.0, 30.0, 2.0], 1.68, 2.14, 0.113),
        ([30.0, 30.0, 2.5], 2.03, 2.59, 0.111),
        ([30.0, 30.0, 3.0], 2.36, 3.01, 0.110),
        ([40.0, 40.0, 2.0], 2.31, 2.94, 0.153),
        ([40.0, 40.0, 2.5], 2.82, 3.59, 0.151),
        ([40.0, 40.0, 3.0], 3.30, 4.21, 0.150),
        ([50.0, 25.0, 2.0], 2.15, 2.74, 0.143),
        ([50.0, 25.0, 2.5], 2.62, 3.34, 0.141),
        ([50.0, 25.0, 3.0], 3.07, 3.91, 0.140),
        ([50.0, 30.0, 2.0], 2.31, 2.94, 0.153),
        ([50.0, 30.0, 2.5], 2.82, 3.59, 0.151),
        ([50.0, 30.0, 3.0], 3.30, 4.21, 0.150),
        ([50.0, 30.0, 4.0], 4.20, 5.35, 0.146),
        ([60.0, 40.0, 2.5], 3.60, 4.59, 0.191),
    ];
    for (size, mass, area, surface) in table {
        let section = cold_formed(size);
        assert_eq!(three_figures(section.mass_per_metre()), mass, "{size:?}");
        assert_eq!(three_figures(section.profile.area() / 100.0), area, "{size:?}");
        assert!((section.profile.perimeter() / 1000.0 - surface).abs() < 0.000_51, "{size:?}");
    }
}
