//! Rectangular tubes in documents: mitres, faces, copes and their wraps.

use crate::document::{codes, document, row, sheets};
use matchmark_core::frame::CutKind;
use matchmark_core::sheets::End;
use serde_json::json;

#[test]
fn a_mitred_corner_of_equal_square_tubes_is_cut_at_45_degrees() {
    // A mitre at 90 degrees: each long point lies half the width beyond the corner, each short point half the width before it
    // (any joiner's mitre; derivable).
    let frame = document(json!({
        "members": [
            {"id": "a", "section": "square", "from": [0, 0, 0], "to": [500, 0, 0], "ends": {"from": "square", "to": {"mitre": {"with": "b"}}}},
            {"id": "b", "section": "square", "from": [500, 0, 0], "to": [500, 400, 0], "ends": {"from": {"mitre": {"with": "a"}}, "to": "square"}},
        ],
    }));
    let sheets = sheets(&frame);
    for (id, length) in [("a", 500.0), ("b", 400.0)] {
        let row = row(&sheets, id);
        assert!((row.overall - (length + 12.5)).abs() < 1e-6, "{row:?}");
        assert!((row.short - (length - 12.5)).abs() < 1e-6, "{row:?}");
    }
    assert!((row(&sheets, "a").to.mitre_deg.expect("a plane cut") - 45.0).abs() < 1e-6);
}

#[test]
fn unequal_widths_meet_on_the_diagonal_of_their_crossing() {
    // Bars of widths 40 and 20 that lie flat and meet at right angles share the diagonal of a 40 x 20 rectangle: the cut of the
    // wide one leans by atan(20 / 40) from square, that of the narrow one by atan(40 / 20) (joiner's mitre of unequal widths; derivable).
    let frame = document(json!({
        "sections": {
            "wide": {"rect": {"width": 40, "height": 20, "wall": 2, "corner": 2}, "material": "steel"},
            "narrow": {"rect": {"width": 20, "height": 20, "wall": 2, "corner": 2}, "material": "steel"},
        },
        "members": [
            {"id": "a", "section": "wide", "from": [0, 0, 0], "to": [500, 0, 0], "ends": {"from": "square", "to": {"mitre": {"with": "b"}}}},
            {"id": "b", "section": "narrow", "from": [500, 0, 0], "to": [500, 400, 0], "ends": {"from": {"mitre": {"with": "a"}}, "to": "square"}},
        ],
    }));
    let sheets = sheets(&frame);
    let lean = |id: &str, end: End| {
        let row = row(&sheets, id);
        (if end == End::From { &row.from } else { &row.to }).mitre_deg.expect("a plane cut")
    };
    assert!((lean("a", End::To) - (0.5_f64).atan().to_degrees()).abs() < 1e-6);
    assert!((lean("b", End::From) - (2.0_f64).atan().to_degrees()).abs() < 1e-6);
    assert!(!codes(&frame).contains(&"mitre-unequal".to_owned()), "of equal height they meet all round");
    // Corner to corner: the long points of both lie on the outer corner.
    assert!((row(&sheets, "a").overall - 510.0).abs() < 1e-6);
    assert!((row(&sheets, "b").overall - 420.0).abs() < 1e-6);
}

#[test]
fn tubes_that_do_not_meet_on_their_mitre_are_reported() {
    let frame = document(json!({
        "members": [
            {"id": "a", "section": "hoop", "from": [0, 0, 0], "to": [500, 0, 0], "ends": {"from": "square", "to": {"mitre": {"with": "b"}}}},
            {"id": "b", "section": "brace", "from": [500, 0, 0], "to": [500, 400, 0], "ends": {"from": {"mitre": {"with": "a"}}, "to": "square"}},
        ],
    }));
    assert_eq!(codes(&frame), ["mitre-unequal", "mitre-unequal"]);
}

#[test]
fn roll_turns_a_tube_about_its_own_axis() {
    // 40 wide and 20 high on a plane cut: lying flat under a level blade turned 45 degrees about z the cut runs over the width.
    let cut = |roll: f64| {
        let frame = document(json!({
            "members": [{
                "id": "a", "section": "box", "from": [0, 0, 0], "to": [500, 0, 0], "roll": roll,
                "ends": {"from": "square", "to": {"mitre": {"normal": [1, 1, 0]}}},
            }],
        }));
        let sheets = sheets(&frame);
        row(&sheets, "a").overall - 500.0
    };
    assert!((cut(0.0) - 20.0).abs() < 1e-6, "half the width");
    assert!((cut(90.0) - 10.0).abs() < 1e-6, "half the height");
    // Turned by 45 degrees: (20 - 4) / sqrt 2 + (10 - 4) / sqrt 2 + 4, the reach of a rounded rectangle.
    assert!((cut(45.0) - (22.0 / 2f64.sqrt() + 4.0)).abs() < 1e-6);
}

#[test]
fn an_end_on_a_face_is_sawn_square_and_knows_what_it_meets() {
    let frame = document(json!({
        "members": [
            {"id": "rail", "section": "box", "from": [-300, 0, 0], "to": [300, 0, 0], "ends": {"from": "square", "to": "square"}},
            {"id": "post", "section": "square", "from": [0, 0, 0], "to": [0, 0, 200], "ends": {"from": {"face": {"of": "rail"}}, "to": "square"}},
            {"id": "default_post", "section": "square", "from": [100, 0, 0], "to": [100, 0, 200], "ends": {"to": "square"}},
            {"id": "leaning", "section": "square", "from": [-100, 0, 0], "to": [-300, 0, 200], "ends": {"from": {"face": {"of": "rail", "clock": 0}}, "to": "square"}},
        ],
    }));
    let sheets = sheets(&frame);
    for post in ["post", "default_post"] {
        let row = row(&sheets, post);
        assert_eq!((row.from.cut, row.from.fits.as_slice()), (CutKind::Square, ["rail".to_owned()].as_slice()));
        assert!((row.overall - 190.0).abs() < 1e-6, "the rail is 20 high: {}", row.overall);
    }
    assert!((row(&sheets, "leaning").from.mitre_deg.expect("a plane cut") - 45.0).abs() < 1e-6);
}

#[test]
fn the_wrap_of_a_rectangular_tube_goes_face_by_face() {
    let frame = document(json!({
        "members": [
            {"id": "header", "section": "hoop", "from": [0, -300, 0], "to": [0, 300, 0], "ends": {"from": "square", "to": "square"}},
            {"id": "branch", "section": "box", "from": [0, 0, 0], "to": [400, 0, 0], "ends": {"to": "square"}},
        ],
    }));
    let sheets = sheets(&frame);
    let wrap = &sheets.wraps[0];
    // EN 10219-2 (memory): 2 (B + H) - (8 - 2 pi) ro.
    let round = 120.0 - (8.0 - 2.0 * std::f64::consts::PI) * 4.0;
    assert!((wrap.circumference - round).abs() < 1e-5);
    assert_eq!(wrap.flats.len(), 5, "four sides, one of them divided by the seam");
    let wide: Vec<f64> = wrap.flats.iter().map(|side| side.to - side.from).collect();
    assert!((wide.iter().sum::<f64>() - (120.0 - 8.0 * 4.0)).abs() < 1e-5, "{wide:?}");
    // Over the wide sides the saddle on a 45 tube of a tube 20 high: 22.5 - sqrt(22.5^2 - 10^2) deep (exact saddle).
    let deep = wrap.outer.iter().flatten().map(|point| point[1]);
    let (low, high) = deep.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), y| (low.min(y), high.max(y)));
    assert!(((high - low) - (22.5 - (22.5_f64.powi(2) - 100.0).sqrt())).abs() < 0.01, "{}", high - low);
    // Paper of 0.1 mm adds pi times its thickness all round, all of it in the corners.
    assert!((wrap.on_paper(wrap.circumference, 0.1) - round - std::f64::consts::PI * 0.1).abs() < 1e-5);
    let side = wrap.flats[1];
    let stretched = wrap.on_paper(side.to, 0.1) - wrap.on_paper(side.from, 0.1);
    assert!((stretched - (side.to - side.from)).abs() < 1e-9);
}

#[test]
fn bent_rectangular_tubes_are_refused() {
    let frame = document(json!({
        "members": [{"id": "a", "section": "box", "path": [[0, 0, 0], [500, 0, 0], [500, 500, 0]], "radius": 150}],
    }));
    assert_eq!(codes(&frame), ["rect-bent"]);
}

#[test]
fn a_cope_and_a_plane_share_one_end() {
    // A brace that runs into a rail at 45 degrees and stops at the middle plane: beyond the plane nothing is left.
    let frame = document(json!({
        "members": [
            {"id": "rail", "section": "hoop", "from": [0, -300, 0], "to": [0, 300, 0], "ends": {"from": "square", "to": "square"}},
            {"id": "left", "section": "hoop", "from": [300, 300, 0], "to": [0, 0, 0],
             "ends": {"from": "square", "to": {"cope": ["rail"], "mitre": {"normal": [0, 1, 0]}}}},
            {"id": "right", "section": "hoop", "from": [300, -300, 0], "to": [0, 0, 0],
             "ends": {"from": "square", "to": {"cope": ["rail"], "mitre": {"normal": [0, 1, 0]}}}},
        ],
    }));
    let sheets = sheets(&frame);
    assert_eq!(row(&sheets, "left").to.cut, CutKind::CopeAndMitre);
    assert!(!codes(&frame).contains(&"clash".to_owned()), "both stop at the middle plane");
    assert!((row(&sheets, "left").overall - row(&sheets, "right").overall).abs() < 1e-6);
    let without = document(json!({
        "members": [frame["members"][0], frame["members"][1],
            {"id": "right", "section": "hoop", "from": [300, -300, 0], "to": [0, 0, 0], "ends": {"from": "square", "to": {"cope": ["rail"]}}}],
    }));
    assert!(
        codes(&without).contains(&"clash".to_owned()),
        "the right one runs on through the left one: {:?}",
        codes(&without)
    );
}
