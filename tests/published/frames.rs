//! Whole documents: lengths of a joint worked by hand, and what must not change them.

use matchmark_core::sheets::{CutRow, Sheets};
use serde_json::{Value, json};

fn document(points: Value, members: Value) -> String {
    json!({
        "format": "matchmark-design/1", "name": "Bench frame",
        "materials": {"cds": {"name": "Cold drawn seamless", "density": 7850}},
        "sections": {
            "hoop": {"round": {"od": 45, "wall": 2.5}, "material": "cds"},
            "brace": {"round": {"od": 30, "wall": 2}, "material": "cds"},
        },
        "points": points, "members": members,
    })
    .to_string()
}

fn sheets(document: &str) -> Sheets {
    let evaluation = matchmark_core::evaluate(document);
    evaluation.sheets.unwrap_or_else(|| panic!("{:?}", evaluation.findings))
}

fn row<'a>(sheets: &'a Sheets, member: &str) -> &'a CutRow {
    sheets.cut_sheet.rows.iter().find(|row| row.member == member).expect("the member is on the cut sheet")
}

#[test]
fn a_strut_between_two_tubes_is_the_distance_less_two_saddles() {
    // Crown to crown of equal tubes at 90 degrees: the long points reach the axes, the short ones stop a radius before them
    // (exact saddle, derivable).
    let text = document(
        json!({"a": [0, -500, 0], "b": [0, 500, 0], "c": [800, -500, 0], "d": [800, 500, 0], "m": [0, 0, 0], "n": [800, 0, 0]}),
        json!([
            {"id": "left", "section": "hoop", "from": "a", "to": "b"},
            {"id": "right", "section": "hoop", "from": "c", "to": "d"},
            {"id": "strut", "section": "hoop", "from": "m", "to": "n"},
        ]),
    );
    let sheets = sheets(&text);
    let strut = row(&sheets, "strut");
    assert!(
        (strut.overall - 800.0).abs() < 0.01
            && (strut.centreline - 755.0).abs() < 0.01
            && (strut.short - 755.0).abs() < 0.01
    );
    assert_eq!(strut.from.fits, ["left"]);
    assert_eq!(strut.to.fits, ["right"]);
    // Mass: the tube between the axes less twice the volume that a header of equal outside takes out of its wall.
    let plain = 0.024_661_5 * (45.0 - 2.5) * 2.5 * 0.8;
    assert!(strut.mass_kg < plain && strut.mass_kg > plain * 0.93);
}

#[test]
fn turning_and_moving_the_frame_changes_no_part() {
    // A rigid motion that keeps z up keeps the index lines too, so every figure stays; mirrored hands are placed by hand here.
    let points = |angle: f64, shift: [f64; 3]| {
        let (sin, cos) = angle.to_radians().sin_cos();
        let turn = |p: [f64; 3]| {
            json!([cos * p[0] - sin * p[1] + shift[0], sin * p[0] + cos * p[1] + shift[1], p[2] + shift[2]])
        };
        json!({
            "a": turn([0.0, -500.0, 0.0]), "b": turn([0.0, -500.0, 700.0]), "c": turn([0.0, 500.0, 700.0]), "d": turn([0.0, 500.0, 0.0]),
            "e": turn([0.0, 120.0, 700.0]), "f": turn([900.0, 150.0, 40.0]), "g": turn([0.0, -500.0, 300.0]), "h": turn([0.0, 500.0, 380.0]),
        })
    };
    let members = json!([
        {"id": "hoop", "section": "hoop", "path": ["a", "b", "c", "d"], "radius": 150},
        {"id": "bar", "section": "brace", "from": "g", "to": "h"},
        {"id": "stay", "section": "brace", "from": "e", "to": "f", "ends": {"to": {"mitre": {"normal": [0, 0, 1]}}}},
    ]);
    let here = sheets(&document(points(0.0, [0.0; 3]), members.clone()));
    let there = sheets(&document(points(31.0, [1234.0, -567.0, 89.0]), members));
    for (a, b) in here.cut_sheet.rows.iter().zip(&there.cut_sheet.rows) {
        for (a, b) in [
            (a.overall, b.overall),
            (a.centreline, b.centreline),
            (a.short, b.short),
            (a.mass_kg * 1e3, b.mass_kg * 1e3),
        ] {
            assert!((a - b).abs() < 1e-3, "{a} {b}");
        }
    }
    for (a, b) in here.wraps.iter().zip(&there.wraps) {
        assert_eq!((a.fits.clone(), a.set_out), (b.fits.clone(), b.set_out));
        assert!((a.largest_relief - b.largest_relief).abs() < 1e-3);
    }
}

#[test]
fn swapping_from_and_to_changes_nothing_but_names() {
    // The axes pass each other by a few millimetres, so that the long point is one and not a tie of two.
    let points = json!({"a": [0, -500, 0], "b": [0, 500, 0], "m": [0, 100, 4], "n": [600, 180, 240]});
    let header = json!({"id": "header", "section": "hoop", "from": "a", "to": "b"});
    let mitre = json!({"mitre": {"normal": [0, 0, 1]}});
    let one = sheets(&document(
        points.clone(),
        json!([header, {"id": "brace", "section": "brace", "from": "m", "to": "n", "ends": {"to": mitre}}]),
    ));
    let two = sheets(&document(
        points,
        json!([header, {"id": "brace", "section": "brace", "from": "n", "to": "m", "ends": {"from": mitre}}]),
    ));
    let (a, b) = (row(&one, "brace"), row(&two, "brace"));
    assert!(
        (a.overall - b.overall).abs() < 1e-6
            && (a.short - b.short).abs() < 1e-6
            && (a.mass_kg - b.mass_kg).abs() < 1e-9
    );
    assert_eq!((&a.from.fits, &a.to.mitre_deg), (&b.to.fits, &b.from.mitre_deg));
    let shape = |sheets: &Sheets, position: usize| {
        let wrap = &sheets.wraps[position];
        let mut line: Vec<[f64; 2]> = wrap.outer.concat();
        let longest = wrap.long_point.expect("a long point").x;
        for point in &mut line {
            point[0] = (point[0] - longest).rem_euclid(wrap.circumference);
        }
        line.sort_by(|a, b| a[0].total_cmp(&b[0]));
        line
    };
    let (a, b) = (shape(&one, 0), shape(&two, 1));
    for [x, y] in a {
        let after = b.partition_point(|point| point[0] < x).clamp(1, b.len() - 1);
        let (left, right) = (b[after - 1], b[after]);
        if right[0] - left[0] > 1e-9 {
            let between = left[1] + (right[1] - left[1]) * (x - left[0]) / (right[0] - left[0]);
            assert!((between - y).abs() < 0.02, "at {x}: {y} {between} {left:?} {right:?}");
        }
    }
}

#[test]
fn a_mirrored_member_is_the_mirror_image() {
    let text = document(
        json!({"a.L": [0, 500, 0], "top.L": [0, 420, 800], "foot.L": [-700, 300, 60], "front.L": [500, 500, 0], "back.L": [-900, 500, 0]}),
        json!([
            {"id": "sill.L", "section": "hoop", "from": "front.L", "to": "back.L", "mirror": true},
            {"id": "post.L", "section": "hoop", "from": "a.L", "to": "top.L", "mirror": true},
            {"id": "stay.L", "section": "brace", "from": "top.L", "to": "foot.L", "mirror": true,
             "ends": {"from": {"cope": ["post.L"]}, "to": {"mitre": {"normal": [0.2, 0.1, 1]}}}},
        ]),
    );
    let sheets = sheets(&text);
    let (left, right) = (row(&sheets, "stay.L"), row(&sheets, "stay.R"));
    assert_eq!(right.from.fits, ["post.R"]);
    assert!((left.overall - right.overall).abs() < 1e-6 && (left.mass_kg - right.mass_kg).abs() < 1e-9);
    let (a, b) = (left.clock_between_ends_deg.expect("clocked"), right.clock_between_ends_deg.expect("clocked"));
    assert!((a + b).abs() < 1e-4 && a.abs() > 1.0, "the clock angle changes its sign: {a} {b}");
}

#[test]
fn set_out_and_lines_agree_with_the_overall_length() {
    // The furthest point of the cut lies `overall` from the furthest point of the other end's cut, so the set-out plus the
    // height of the line's top is the overall length, at both ends.
    let text = document(
        json!({"a": [0, -500, 0], "b": [0, 500, 0], "m": [0, 60, 0], "n": [420, 180, 300], "p": [420, -300, 300], "q": [420, 600, 300]}),
        json!([
            {"id": "low", "section": "hoop", "from": "a", "to": "b"},
            {"id": "high", "section": "hoop", "from": "p", "to": "q"},
            {"id": "brace", "section": "brace", "from": "m", "to": "n"},
        ]),
    );
    let sheets = sheets(&text);
    assert_eq!(sheets.wraps.len(), 2);
    for wrap in &sheets.wraps {
        let top = wrap.outer.iter().flatten().map(|point| point[1]).fold(0.0, f64::max);
        assert!((wrap.set_out.distance + top - wrap.overall).abs() < 1e-6);
        assert_eq!(wrap.set_out.distance, wrap.set_out.distance.round());
        let at = wrap.long_point.expect("a long point").x;
        assert!(wrap.outer.iter().flatten().any(|point| (point[0] - at).abs() < 1e-6 && (point[1] - top).abs() < 1e-6));
    }
}

#[test]
fn part_of_a_wall_that_misses_is_reported_with_place_and_amount() {
    // A 45 tube on a 30 tube: the wall passes by more than 0.05 mm from asin(15.05/22.5) = 41.98 to 138.02 degrees from the crown,
    // on both flanks, by 22.5 - 15 mm (derivable).
    let text = document(
        json!({"a": [0, -500, 0], "b": [0, 500, 0], "m": [0, 0, 0], "n": [0, 0, 400]}),
        json!([
            {"id": "thin", "section": "brace", "from": "a", "to": "b"},
            {"id": "post", "section": "hoop", "from": "m", "to": "n"},
        ]),
    );
    let evaluation = matchmark_core::evaluate(&text);
    let missed: Vec<_> = evaluation.findings.iter().filter(|finding| finding.code == "cope-misses-part").collect();
    // Both flanks are one finding: they have one cause.
    assert_eq!(missed.len(), 1, "{:?}", evaluation.findings);
    let message = &missed[0].message;
    assert!(message.contains("by up to 7.50 mm") && message.contains("Make `post` no larger than `thin`"), "{message}");
    let sheets = evaluation.sheets.expect("a warning stops nothing");
    let wrap = &sheets.wraps[0];
    assert_eq!((wrap.misses.len(), wrap.outer.len()), (2, 2));
    for miss in &wrap.misses {
        assert!((miss.to_deg - miss.from_deg - 96.037).abs() < 0.01, "{miss:?}");
        assert!((miss.by - 7.5).abs() < 0.01, "{miss:?}");
    }
}

#[test]
fn a_leg_left_long_gets_a_trimming_wrap_from_the_tangent_mark() {
    let text = document(
        json!({"a.L": [0, 500, 0], "b.L": [0, 500, 900]}),
        json!([
            {"id": "hoop", "section": "hoop", "path": ["a.L", "b.L", "b.R", "a.R"], "radius": 135, "leave_long": {"from": 40, "to": 40}},
        ]),
    );
    let sheets = sheets(&text);
    let hoop = row(&sheets, "hoop");
    // Arc = radius x angle, tangent = radius x tan(angle / 2): 765 + 730 + 765 straight and two quarters of 135.
    let developed = 2260.0 + core::f64::consts::PI * 135.0;
    assert!(
        (hoop.overall - developed).abs() < 0.01 && (hoop.blank.expect("it is sawn") - developed - 80.0).abs() < 0.01
    );
    assert_eq!(sheets.wraps.len(), 2, "one for each foot");
    for (wrap, bend) in sheets.wraps.iter().zip([1, 2]) {
        let matchmark_core::sheets::Datum::TangentMark { bend: named, .. } = wrap.set_out.datum else {
            panic!("{:?}", wrap.set_out);
        };
        assert_eq!(named, bend);
        assert_eq!(wrap.set_out.distance, 735.0);
        assert!(wrap.outer.iter().flatten().all(|point| (point[1] - 30.0).abs() < 1e-9));
    }
    let bend_sheet = &sheets.bend_sheets[0];
    assert!((bend_sheet.marks[0].start - 805.0).abs() < 1e-6);
    // Fed from the sawn end: 765 and what is left long there.
    assert!((bend_sheet.rows[0].feed - 805.0).abs() < 1e-6 && (bend_sheet.last_straight - 805.0).abs() < 1e-6);
    assert!((bend_sheet.rise - 900.0).abs() < 0.01 && (bend_sheet.end_to_end - 1000.0).abs() < 1e-6);
}
