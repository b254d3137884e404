//! Mass, centre of gravity, surface, welds, jigs and findings by rule.

use crate::document::{codes, document, sheets};
use serde_json::json;
use std::f64::consts::PI;

#[test]
fn a_tee_of_equal_tubes_weighs_and_takes_what_the_closed_forms_say() {
    let frame = document(json!({
        "members": [
            {"id": "rail", "section": "hoop", "from": [0, -300, 0], "to": [0, 300, 0], "ends": {"from": "square", "to": "square"}},
            {"id": "post", "section": "hoop", "from": [0, 0, 0], "to": [0, 0, 500], "ends": {"to": "square"}},
        ],
    }));
    let mass = sheets(&frame).mass;
    // Two half ellipses of semi-axes R and R sqrt 2: the line of an equal tee (cylinders that envelop one sphere meet in plane
    // curves; Monge, memory). Circumference of an ellipse after Ramanujan's second formula (error under 1e-6 here).
    let (a, b) = (22.5 * 2f64.sqrt(), 22.5);
    let h = ((a - b) / (a + b)).powi(2);
    let ellipse = PI * (a + b) * (1.0 + 3.0 * h / (10.0 + (4.0 - 3.0 * h).sqrt()));
    assert!((mass.weld_length - ellipse).abs() < 0.02, "{} {ellipse}", mass.weld_length);
    // Surface of the post: its circumference times the mean length; the saddle of equal tubes takes 2 R / pi off the mean.
    let surface = PI * 45.0 * (600.0 + 500.0 - 2.0 * 22.5 / PI) * 1e-6;
    assert!((mass.painted_m2 - surface).abs() < 2e-6, "{} {surface}", mass.painted_m2);
    assert!(mass.centre_of_gravity[0].abs() < 1e-6 && mass.centre_of_gravity[1].abs() < 1e-6);
    let rail = PI * 42.5 * 2.5 * 600.0 * 7850e-9;
    let post = mass.mass_kg - rail;
    let height = mass.centre_of_gravity[2] * mass.mass_kg / post;
    assert!(height > 250.0 && height < 262.0, "over the middle, since the lower end is cut away: {height}");
}

#[test]
fn the_centroid_of_a_half_ring_is_that_of_the_handbooks() {
    // Half a ring of mean radius R: 2 R / pi from its centre for a line, with the shift of a thick ring (Pappus; any handbook of
    // mechanics; memory). Two bends of 90 degrees back to back make it.
    let frame = document(json!({
        "members": [{"id": "u", "section": "hoop", "path": [[0, 200, 0], [0, 200, 200], [0, -200, 200], [0, -200, 0]], "radius": 199.999_999,
            "ends": {"from": "square", "to": "square"}}],
    }));
    let mass = sheets(&frame).mass;
    // (R^2 + r^2) / 4 = 226.6 mm2 over R = 200 moves the steel out by 1.13 mm at each place of the bend.
    let spread = (22.5_f64.powi(2) + 20.0_f64.powi(2)) / 4.0;
    let wanted = 2.0 / PI * (200.0 + spread / 200.0);
    assert!((mass.centre_of_gravity[2] - wanted).abs() < 0.01, "{} {wanted}", mass.centre_of_gravity[2]);
    assert!((mass.mass_kg - PI * 42.5 * 2.5 * PI * 200.0 * 7850e-9).abs() < 1e-4);
}

#[test]
fn a_jig_sheet_says_where_the_hoop_stands() {
    let frame = document(json!({
        "base": -4,
        "members": [{"id": "hoop", "section": "hoop", "path": [[100, 500, 0], [40, 500, 900], [40, -500, 900], [100, -500, 0]], "radius": 150,
            "ends": {"from": {"mitre": {"normal": [0, 0, 1]}}, "to": {"mitre": {"normal": [0, 0, 1]}}}}],
    }));
    let sheets = sheets(&frame);
    let jig = &sheets.jigs[0];
    assert_eq!(jig.spread, 1000.0);
    assert_eq!(jig.height, 900.0 + 22.5 + 4.0);
    assert_eq!(jig.feet_height, [4.0, 4.0]);
    assert!((jig.fore_and_aft + 60.0).abs() < 1e-6 && jig.sideways.abs() < 1e-6);
    assert!((jig.lean_deg + (60.0_f64 / 900.0).atan().to_degrees()).abs() < 1e-6);
    let names: Vec<&str> = sheets.checks.iter().map(|check| check.name.as_str()).collect();
    assert!(names.contains(&"spread_hoop") && names.contains(&"height_hoop"), "{names:?}");
}

#[test]
fn findings_by_rule_name_their_source_and_approve_nothing() {
    let frame = document(json!({
        "materials": {"steel": {"name": "S235", "density": 7850, "tensile": 340}},
        "sections": {"thin": {"round": {"od": 38, "wall": 2}, "material": "steel"}},
        "stock": [{"section": "thin", "lengths": [1500]}],
        "members": [
            {"id": "hoop", "section": "thin", "path": [[0, 500, 0], [0, 500, 900], [0, -500, 900], [0, -500, 0]], "radius": 70,
             "ends": {"from": "square", "to": "square"}, "roll_structure": "main_hoop"},
        ],
    }));
    let evaluation = matchmark_core::evaluate(&frame.to_string());
    let of = |code: &str| evaluation.findings.iter().filter(|finding| finding.code == code).collect::<Vec<_>>();
    assert_eq!(of("not-in-stock").len(), 1, "2.6 m from bars of 1.5 m");
    assert_eq!(of("bend-radius").len(), 1, "70 is under twice 38");
    let rules = of("roll-structure");
    // FIA Appendix J, Art. 253-8 (memory): 45 x 2.5 or 50 x 2; bend radius 3 diameters, twice; 350 N/mm2.
    assert_eq!(rules.len(), 4);
    for rule in rules {
        assert_eq!(rule.severity, matchmark_core::document::Severity::Information);
        assert!(
            rule.message.contains("FIA Appendix J, Art. 253-8") && rule.message.contains("competent person"),
            "{}",
            rule.message
        );
        assert!(!rule.message.contains("approv") && !rule.message.contains("complies"));
    }
}

#[test]
fn tubes_that_run_through_each_other_clash() {
    let frame = |y: f64| {
        document(json!({
            "members": [
                {"id": "a", "section": "hoop", "from": [0, -300, 0], "to": [0, 300, 0], "ends": {"from": "square", "to": "square"}},
                {"id": "b", "section": "hoop", "from": [-300, 0, y], "to": [300, 0, y], "ends": {"from": "square", "to": "square"}},
            ],
        }))
    };
    assert_eq!(codes(&frame(30.0)), ["clash"]);
    assert_eq!(codes(&frame(45.0)), Vec::<String>::new(), "they touch");
}

#[test]
fn a_bay_that_closes_gets_its_diagonals_checked() {
    let frame = document(json!({
        "members": [
            {"id": "left", "section": "hoop", "from": [0, 300, 0], "to": [800, 300, 0], "ends": {"from": "square", "to": "square"}},
            {"id": "right", "section": "hoop", "from": [0, -300, 0], "to": [800, -300, 0], "ends": {"from": "square", "to": "square"}},
            {"id": "rear", "section": "brace", "from": [100, 300, 0], "to": [100, -300, 0]},
            {"id": "front", "section": "brace", "from": [700, 300, 0], "to": [700, -300, 0]},
        ],
    }));
    let checks = sheets(&frame).checks;
    let diagonals: Vec<f64> =
        checks.iter().filter(|check| check.name.starts_with("diagonal")).map(|check| check.nominal).collect();
    assert_eq!(diagonals.len(), 2, "{checks:?}");
    assert!(diagonals.iter().all(|diagonal| (diagonal - 600.0 * 2f64.sqrt()).abs() < 1e-5));
}
