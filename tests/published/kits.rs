//! What differs from kit to kit: choices, measured values, holes, plates, plugs and sleeves.

use crate::document::{codes, document, evaluated, row, sheets};
use matchmark_core::document::OneKit;
use matchmark_core::frame::CutKind;
use matchmark_core::sheets::ChangeKind;
use matchmark_core::{check_all_choices, evaluate_for};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::f64::consts::PI;

fn hoop_frame() -> Value {
    document(json!({
        "points": {"foot.L": [0, 500, 0], "top.L": [0, 500, 900], "bar.L": [0, 500, 300], "back.L": [-600, 500, 300], "far": [2000, 0, 0]},
        "members": [
            {"id": "hoop", "section": "hoop", "path": ["foot.L", "top.L", "top.R", "foot.R"], "radius": 150, "ends": {"from": "square", "to": "square"}},
            {"id": "bar", "section": "brace", "from": "bar.L", "to": "bar.R"},
            {"id": "elsewhere", "section": "brace", "from": "far", "to": [2000, 500, 0], "ends": {"from": "square", "to": "square"}},
        ],
        "gauges": {"spread": {"what": "Hoop, foot to foot", "nominal": 1000, "least": 990, "most": 1012, "moves": {"foot.L": [0, 0.5, 0]}}},
    }))
}

#[test]
fn a_hoop_that_opened_up_gets_a_bar_that_fits_it() {
    let frame = hoop_frame();
    let mut kit = OneKit::default();
    kit.measured.insert("spread".into(), 1010.0);
    let text = frame.to_string();
    let mut measured = evaluate_for(&text, &kit);
    let numbers = measured.number(None).expect("no errors");
    let to_figure = evaluated(&frame);
    let (new, old) = (measured.sheets.as_ref().expect("no errors"), to_figure.sheets.as_ref().expect("no errors"));
    // Feet 5 mm further out each side; the leg's axis at a third of its height stands two thirds of that out (similar
    // triangles), so that the bar between the legs grows by 2 x 5 x 2/3 less what the leaning saddle changes.
    let grown = row(new, "bar").centreline - row(old, "bar").centreline;
    assert!((grown - 2.0 * 5.0 * 2.0 / 3.0).abs() < 0.01, "{grown}");
    let changes = measured.changes_from(&numbers, &to_figure, &numbers).expect("no errors");
    let kinds: Vec<(&str, ChangeKind)> = changes.parts.iter().map(|part| (part.member.as_str(), part.kind)).collect();
    assert_eq!(kinds[2], ("elsewhere", ChangeKind::Unchanged));
    assert_eq!(kinds[0], ("hoop", ChangeKind::Moved), "the hoop that was measured is the one that stands");
    assert_eq!(kinds[1], ("bar", ChangeKind::Replace), "a longer bar cannot be had from a shorter one");
}

#[test]
fn values_outside_the_limits_are_refused_with_the_limit_and_the_value() {
    let mut kit = OneKit::default();
    kit.measured.insert("spread".into(), 1013.5);
    let evaluation = evaluate_for(&hoop_frame().to_string(), &kit);
    assert!(evaluation.sheets.is_none());
    let finding = &evaluation.findings[0];
    assert_eq!((finding.code.as_str(), finding.pointer.as_str()), ("gauge-outside", "/gauges/spread"));
    assert!(finding.message.contains("1013.5") && finding.message.contains("990 to 1012"), "{}", finding.message);
    let unknown = OneKit { measured: BTreeMap::from([("spred".into(), 1000.0)]), ..OneKit::default() };
    assert_eq!(evaluate_for(&hoop_frame().to_string(), &unknown).findings[0].code, "unknown-gauge");
}

fn with_options() -> Value {
    document(json!({
        "members": [
            {"id": "rail", "section": "hoop", "from": [0, -300, 0], "to": [0, 300, 0], "ends": {"from": "square", "to": "square"}},
            {"id": "left", "section": "brace", "from": [0, 200, 0], "to": [400, 200, 0], "ends": {"to": "square"}, "when": {"drive": "left"}},
            {"id": "right", "section": "brace", "from": [0, -200, 0], "to": [400, -200, 0], "ends": {"to": "square"}, "when": {"drive": "right"}},
        ],
        "options": {"drive": {"what": "Side of the driver", "choices": ["left", "right"]}, "roof": {"what": "Roof", "choices": ["open", "closed"]}},
        "holes": {"switch": {"member": "rail", "station": 100, "clock": 0, "diameter": 8, "when": {"roof": "closed"}}},
    }))
}

#[test]
fn a_kit_has_the_parts_of_its_choices() {
    let members = |choices: &[(&str, &str)]| {
        let choices = choices.iter().map(|(option, choice)| ((*option).into(), (*choice).into())).collect();
        let evaluation = evaluate_for(&with_options().to_string(), &OneKit { choices, ..OneKit::default() });
        let sheets = evaluation.sheets.unwrap_or_else(|| panic!("{:?}", evaluation.findings));
        let members: Vec<String> = sheets.cut_sheet.rows.iter().map(|row| row.member.clone()).collect();
        (members.join(" "), sheets.strips.len())
    };
    assert_eq!(members(&[]), ("rail left".into(), 0), "the first choice of each option");
    assert_eq!(members(&[("drive", "right"), ("roof", "closed")]), ("rail right".into(), 1));
    let wrong = OneKit { choices: BTreeMap::from([("drive".into(), "middle".into())]), ..OneKit::default() };
    assert_eq!(evaluate_for(&with_options().to_string(), &wrong).findings[0].code, "unknown-choice");
}

#[test]
fn every_combination_is_checked_at_once() {
    let mut frame = with_options();
    assert!(
        check_all_choices(&frame.to_string())
            .iter()
            .all(|finding| finding.code == "end-unfitted" || finding.code != "clash")
    );
    // Only a right-hand drive frame has this part, and it is cut shorter than nothing.
    frame["members"][2]["to"] = json!([10, -200, 0]);
    assert!(
        !codes(&frame).contains(&"starts-inside".to_owned())
            && !codes(&frame).contains(&"shorter-than-cuts".to_owned())
    );
    let found = check_all_choices(&frame.to_string());
    let error = found.first().expect("something is found");
    assert!(error.message.starts_with("With drive right"), "{error:?}");
}

#[test]
fn plates_have_the_area_and_mass_of_their_outline() {
    // Rounded rectangle: width x height - (4 - pi) r^2 (any handbook; derivable).
    let corner = |x: i32, y: i32| json!({"at": [x, y], "round": 12});
    let frame = document(json!({
        "members": [{"id": "post", "section": "hoop", "from": [0, 0, 0], "to": [0, 0, 400], "ends": {"to": "square"}}],
        "plates": {"foot": {
            "thickness": 4, "material": "steel",
            "outline": [corner(-65, -60), corner(65, -60), corner(65, 60), corner(-65, 60)],
            "holes": [{"at": [-48, -44], "diameter": 10}, {"at": [48, 44], "diameter": 10, "countersink": 14}],
            "place": {"at": [0, 0, -4], "normal": [0, 0, 1], "along": [1, 0, 0]},
        }},
    }));
    let sheets = sheets(&frame);
    let plate = &sheets.plates[0];
    let area = 130.0 * 120.0 - (4.0 - PI) * 144.0;
    // Countersink of 90 degrees from 14 to 10: frustum 2 deep less the hole in it, pi 2 / 3 (49 + 35 + 25) - pi 25 2.
    let sunk = PI * 2.0 / 3.0 * (49.0 + 35.0 + 25.0) - PI * 25.0 * 2.0;
    let volume = (area - 2.0 * PI * 25.0) * 4.0 - sunk;
    assert!((plate.mass_kg - volume * 7850e-9).abs() < 1e-9, "{}", plate.mass_kg);
    assert_eq!(plate.size, [130.0, 120.0]);
    // The post stands on the plate: sawn square, and the plate comes first.
    assert_eq!(row(&sheets, "post").from.fits, ["foot"]);
    assert_eq!(row(&sheets, "post").from.cut, CutKind::Square);
    assert_eq!(sheets.fit_up.steps[0].member, "foot");
}

#[test]
fn plates_that_cannot_be_cut_are_refused() {
    let plate = |outline: Value, holes: Value| {
        document(json!({
            "members": [{"id": "post", "section": "hoop", "from": [0, 0, 0], "to": [0, 0, 400], "ends": {"from": "square", "to": "square"}}],
            "plates": {"p": {"thickness": 4, "material": "steel", "outline": outline, "holes": holes,
                "place": {"at": [0, 200, 0], "normal": [0, 0, 1], "along": [1, 0, 0]}}},
        }))
    };
    let square = json!([[0, 0], [50, 0], [50, 50], [0, 50]]);
    for (frame, code) in [
        (plate(json!([[0, 0], [50, 50], [50, 0], [0, 50]]), json!([])), "outline-crosses"),
        (plate(json!([[0, 0], [50, 0]]), json!([])), "outline-open"),
        (plate(json!([{"at": [0, 0], "round": 60}, [50, 0], [50, 50], [0, 50]]), json!([])), "round-too-large"),
        (plate(square.clone(), json!([{"at": [3, 25], "diameter": 8}])), "hole-over-edge"),
        (
            plate(square.clone(), json!([{"at": [20, 25], "diameter": 8}, {"at": [26, 25], "diameter": 8}])),
            "holes-meet",
        ),
    ] {
        assert_eq!(codes(&frame), [code]);
    }
    // Clockwise and anticlockwise outlines are one plate.
    let turned = plate(json!([[0, 50], [50, 50], [50, 0], [0, 0]]), json!([]));
    assert!((sheets(&turned).plates[0].mass_kg - 50.0 * 50.0 * 4.0 * 7850e-9).abs() < 1e-12);
}

#[test]
fn a_plate_edge_inside_a_tube_is_found() {
    let frame = |x: f64| {
        document(json!({
            "members": [{"id": "post", "section": "hoop", "from": [0, 0, 0], "to": [0, 0, 400], "ends": {"from": "square", "to": "square"}}],
            "plates": {"gusset": {"thickness": 4, "material": "steel", "outline": [[0, 0], [80, 0], [0, 80]], "after": "post",
                "place": {"at": [x, -2, 100], "normal": [0, 1, 0], "along": [1, 0, 0]}}},
        }))
    };
    assert_eq!(codes(&frame(22.5)), Vec::<String>::new(), "it touches the tube");
    assert_eq!(codes(&frame(15.0)), ["plate-in-tube"]);
}

#[test]
fn holes_are_marked_from_the_furthest_point_of_the_from_end() {
    let frame = document(json!({
        "members": [
            {"id": "a.L", "section": "hoop", "from": [0, 200, 0], "to": [500, 200, 0], "mirror": true,
             "ends": {"from": {"mitre": {"normal": [1, 0, 1]}}, "to": "square"}},
        ],
        "holes": {"h.L": {"member": "a.L", "station": 200, "clock": 30, "diameter": 10, "mirror": true}},
    }));
    let sheets = sheets(&frame);
    // The 45 degree cut puts the long point a radius before the end of the axis: 200 + 22.5.
    for (strip, clock) in sheets.strips.iter().zip([30.0, 330.0]) {
        let hole = &strip.holes[0];
        assert!((hole.from_datum - 222.5).abs() < 1e-6 && (hole.clock_deg - clock).abs() < 1e-6, "{hole:?}");
        assert!((hole.at[0] - clock / 360.0 * PI * 45.0).abs() < 1e-5);
        assert!((strip.lower + hole.at[1] - 222.5).abs() < 1e-6 && strip.lower.fract() == 0.0);
    }
    // Drilled square to the wall, the edge reaches R asin(a / R) round the tube on either side (derivable).
    let widest = sheets.strips[0].holes[0].outline.iter().map(|point| point[0]).fold(f64::NEG_INFINITY, f64::max);
    let reach = 22.5 * (5.0_f64 / 22.5).asin();
    assert!((widest - sheets.strips[0].holes[0].at[0] - reach).abs() < 1e-5);
    let over = document(json!({
        "members": [{"id": "a", "section": "hoop", "from": [0, 0, 0], "to": [500, 0, 0], "ends": {"from": "square", "to": "square"}}],
        "holes": {"h": {"member": "a", "station": 498, "clock": 0, "diameter": 10}},
    }));
    assert_eq!(codes(&over), ["hole-impossible"]);
}

fn spigot(od: f64, depth: f64, shift: f64) -> Value {
    document(json!({
        "sections": {
            "hoop": {"round": {"od": 45, "wall": 2.5}, "material": "steel"},
            "spigot": {"round": {"od": od, "wall": 3}, "material": "steel"},
        },
        "members": [
            {"id": "outer", "section": "hoop", "from": [0, 0, 0], "to": [500, 0, 0], "ends": {"from": "square", "to": "square"}},
            {"id": "inner", "section": "spigot", "from": [500.0 - depth, shift, 0], "to": [700, shift, 0], "ends": {"from": {"plug": {"into": "outer", "depth": 40}}, "to": "square"}},
        ],
    }))
}

#[test]
fn a_plug_is_checked_for_play_depth_and_line() {
    // Bore of 45 x 2.5: 40 mm.
    assert_eq!(codes(&spigot(39.6, 50.0, 0.0)), Vec::<String>::new());
    assert_eq!(codes(&spigot(40.2, 50.0, 0.0)), ["slide-too-tight"]);
    assert_eq!(codes(&spigot(38.0, 50.0, 0.0)), ["slide-loose"]);
    assert_eq!(codes(&spigot(39.6, 30.0, 0.0)), ["slide-too-short"]);
    assert_eq!(codes(&spigot(39.6, 50.0, 0.4)), ["slide-not-in-line"]);
    let sheets = sheets(&spigot(39.6, 50.0, 0.0));
    let inner = row(&sheets, "inner");
    assert_eq!((inner.from.cut, inner.overall), (CutKind::Plug, 250.0));
}

#[test]
fn part_numbers_stay_with_their_parts() {
    let frame = |far: f64, extra: bool| {
        let mut members = vec![
            json!({"id": "rail", "section": "hoop", "from": [0, -300, 0], "to": [0, 300, 0], "ends": {"from": "square", "to": "square"}}),
            json!({"id": "stay.L", "section": "brace", "from": [0, 200, 0], "to": [far, 200, 0], "mirror": true, "ends": {"to": "square"}}),
            json!({"id": "strut", "section": "brace", "from": [0, 0, 0], "to": [0, 0, 300], "ends": {"to": "square"}, "part": "S-7"}),
        ];
        if extra {
            members.insert(1, json!({"id": "new", "section": "brace", "from": [0, 100, 0], "to": [250, 100, 0], "ends": {"to": "square"}}));
        }
        document(json!({"members": members, "part_prefix": "BF"}))
    };
    let first = evaluated(&frame(400.0, false));
    let mut a = first.clone();
    let numbers_a = a.number(None).expect("no errors");
    assert_eq!(numbers_a.of("rail"), Some("BF101-1"));
    // Both hands are one part: one number, two pieces.
    assert_eq!((numbers_a.of("stay.L"), numbers_a.of("stay.R")), (Some("BF102-1"), Some("BF102-1")));
    assert_eq!(numbers_a.of("strut"), Some("S-7"), "the document fixes it");
    let mut b = evaluated(&frame(404.0, true));
    let numbers_b = b.number(Some((&a, &numbers_a))).expect("no errors");
    assert_eq!(numbers_b.of("rail"), Some("BF101-1"), "unchanged");
    assert_eq!(numbers_b.of("stay.R"), Some("BF102-2"), "changed: the next dash");
    assert_eq!(numbers_b.of("new"), Some("BF103-1"), "a base never given before");
    let parts = &b.sheets.as_ref().expect("no errors").parts;
    let stay = parts.iter().find(|part| part.number == "BF102-2").expect("listed");
    assert_eq!((stay.quantity, stay.members.as_slice()), (2, ["stay.L".to_owned(), "stay.R".to_owned()].as_slice()));
    let changes = b.changes_from(&numbers_b, &a, &numbers_a).expect("no errors");
    let kind = |id: &str| changes.parts.iter().find(|part| part.member == id).expect("listed").kind;
    assert_eq!(kind("rail"), ChangeKind::Unchanged);
    assert_eq!(kind("stay.L"), ChangeKind::Replace, "4 mm longer");
    assert_eq!(kind("new"), ChangeKind::Added);
    // And back again: the old part comes back under its old number only where the number before still says so.
    let back = a.changes_from(&numbers_a, &b, &numbers_b).expect("no errors");
    let trimmed = back.parts.iter().find(|part| part.member == "stay.L").expect("listed");
    assert_eq!(trimmed.kind, ChangeKind::Rework);
    assert!((trimmed.trims[0].most - 4.0).abs() < 0.05, "{trimmed:?}");
}

#[test]
fn numbers_that_contradict_the_parts_are_found() {
    let frame = |second: &str, length: f64| {
        document(json!({"members": [
            {"id": "a", "section": "hoop", "from": [0, 0, 0], "to": [500, 0, 0], "ends": {"from": "square", "to": "square"}, "part": "P-1"},
            {"id": "b", "section": "hoop", "from": [0, 200, 0], "to": [length, 200, 0], "ends": {"from": "square", "to": "square"}, "part": second},
        ]}))
    };
    let codes = |frame: Value| {
        let mut evaluation = matchmark_core::evaluate(&frame.to_string());
        evaluation.number(None);
        evaluation.findings.into_iter().map(|finding| finding.code).collect::<Vec<_>>()
    };
    assert_eq!(codes(frame("P-1", 500.0)), Vec::<String>::new());
    assert_eq!(codes(frame("P-1", 510.0)), ["part-number-clash"]);
    assert_eq!(codes(frame("P-2", 500.0)), ["numbered-apart"]);
}
