//! What must hold for every frame, on frames made here.

use crate::dxf::Drawing;
use matchmark_core::Stop;
use matchmark_import::{Import, Outcome, SourceFile, import_text};
use proptest::prelude::*;
use serde_json::{Value, json};

pub fn import(drawing: &Drawing, answers: &Value) -> Import {
    let files = [SourceFile { name: "frame.dxf".into(), bytes: drawing.bytes() }];
    import_text(&files, Some(&answers.to_string()), None, Stop::NEVER).unwrap()
}

pub fn codes(import: &Import) -> Vec<&'static str> {
    import.report.findings.iter().map(|finding| finding.code.as_str()).collect()
}

fn sections() -> Value {
    json!({"sections": {"T": {"od": 30, "wall": 2}}})
}

/// Ends and corners of a member.
fn path(import: &Import, member: usize) -> Vec<[f64; 3]> {
    let design = import.design.as_ref().expect("a design");
    let member = &design["members"][member];
    let names: Vec<&str> = match member["path"].as_array() {
        Some(path) => path.iter().map(|name| name.as_str().unwrap()).collect(),
        None => vec![member["from"].as_str().unwrap(), member["to"].as_str().unwrap()],
    };
    let point = |name: &str| -> [f64; 3] {
        let own = design["points"].get(name).map(|at| serde_json::from_value(at.clone()).unwrap());
        own.unwrap_or_else(|| {
            let [x, y, z]: [f64; 3] =
                serde_json::from_value(design["points"][name.replace(".R", ".L")].clone()).unwrap();
            [x, -y, z]
        })
    };
    names.into_iter().map(point).collect()
}

fn near(one: [f64; 3], other: [f64; 3]) -> bool {
    (0..3).all(|axis| (one[axis] - other[axis]).abs() < 1e-3)
}

#[test]
fn a_bend_between_two_lines_is_one_tube_with_one_corner() {
    // Closed form: a quarter turn of radius 80 leaves its lines 80 before their corner.
    let mut drawing = Drawing::new(4);
    drawing.line("T", [0.0, 50.0, 0.0], [420.0, 50.0, 0.0]).arc("T", [420.0, 130.0, 0.0], 80.0, 270.0, 360.0);
    drawing.line("T", [500.0, 130.0, 0.0], [500.0, 700.0, 0.0]);
    let read = import(&drawing, &sections());
    assert_eq!(read.report.counts.tubes, 1);
    let path = path(&read, 0);
    assert!(path.len() == 3 && near(path[1], [500.0, 50.0, 0.0]), "{path:?}");
    assert_eq!(read.design.unwrap()["members"][0]["radius"], 80.0);
}

#[test]
fn two_radii_in_one_tube_are_said_and_not_averaged() {
    let mut drawing = Drawing::new(4);
    drawing.line("T", [0.0, 50.0, 0.0], [420.0, 50.0, 0.0]).arc("T", [420.0, 130.0, 0.0], 80.0, 270.0, 360.0);
    drawing.line("T", [500.0, 130.0, 0.0], [500.0, 600.0, 0.0]).arc("T", [400.0, 600.0, 0.0], 100.0, 0.0, 90.0);
    drawing.line("T", [400.0, 700.0, 0.0], [0.0, 700.0, 0.0]).line("T", [0.0, 0.0, 300.0], [400.0, 10.0, 300.0]);
    let read = import(&drawing, &sections());
    assert!(codes(&read).contains(&"two-radii"));
    assert_eq!(read.report.counts.tubes, 1);
}

#[test]
fn lines_in_line_on_one_layer_are_one_tube_unless_answered() {
    let mut drawing = Drawing::new(4);
    drawing.line("T", [0.0, 50.0, 0.0], [400.0, 50.0, 0.0]).line("T", [900.0, 50.0, 0.0], [400.0, 50.0, 0.0]);
    drawing.line("U", [900.0, 50.0, 0.0], [1400.0, 50.0, 0.0]);
    let mut answers = json!({"sections": {"T": {"od": 30, "wall": 2}, "U": {"od": 30, "wall": 2}}});
    let read = import(&drawing, &answers);
    assert_eq!(read.report.counts.tubes, 2, "never across layers");
    assert!(codes(&read).contains(&"joined-in-line"));
    answers["join_in_line"] = json!(false);
    assert_eq!(import(&drawing, &answers).report.counts.tubes, 3);
}

#[test]
fn sharp_corners_are_asked_about_and_read_as_answered() {
    let mut drawing = Drawing::new(4);
    drawing.polyline("T", &[[0.0, 300.0, 0.0], [0.0, 300.0, 500.0], [600.0, 300.0, 500.0]]);
    let mut answers = sections();
    let asked = import(&drawing, &answers);
    assert_eq!(asked.report.outcome, Outcome::Unanswered);
    assert!(asked.design.is_none() && asked.report.questions.iter().any(|question| question.stops));
    for (radius, tubes) in [(json!(90), 1), (json!({"by_layer": {"t": 90}}), 1), (json!(0), 2)] {
        answers["radius"] = radius;
        assert_eq!(import(&drawing, &answers).report.counts.tubes, tubes);
    }
    answers["radius"] = json!({"by_tube_near": [{"at": [0, 300, 500], "radius": 70}]});
    assert_eq!(import(&drawing, &answers).design.unwrap()["members"][0]["radius"], 70.0);
}

#[test]
fn a_mirrored_block_is_the_other_hand() {
    let mut inside = Drawing::new(4);
    inside.line("T", [0.0, 50.0, 0.0], [420.0, 50.0, 0.0]).arc("T", [420.0, 130.0, 0.0], 80.0, 270.0, 360.0);
    inside.line("T", [500.0, 130.0, 0.0], [500.0, 700.0, 0.0]);
    let mut drawing = Drawing::new(4);
    drawing.block("SIDE", &inside).insert("SIDE", &[]).insert("SIDE", &[(42, "-1".into())]);
    let read = import(&drawing, &sections());
    assert_eq!((read.report.counts.tubes, read.report.counts.pairs), (2, 1));
    assert_eq!(read.design.unwrap()["members"][0]["mirror"], true);
}

#[test]
fn a_row_of_blocks_is_written_out() {
    let mut inside = Drawing::new(4);
    inside.line("T", [0.0, 0.0, 0.0], [0.0, 0.0, 400.0]);
    let mut drawing = Drawing::new(4);
    drawing.block("POST", &inside);
    let row =
        [(70, "3"), (71, "2"), (44, "250"), (45, "100"), (50, "90")].map(|(code, value)| (code, value.to_owned()));
    drawing.insert("POST", &row);
    assert_eq!(import(&drawing, &sections()).report.counts.tubes, 6);
}

#[test]
fn axes_that_swap_left_and_right_are_refused() {
    let mut drawing = Drawing::new(4);
    drawing.line("T", [0.0, 50.0, 0.0], [420.0, 50.0, 0.0]);
    let mut answers = sections();
    answers["axes"] = json!(["y", "x", "z"]);
    let refused = import(&drawing, &answers);
    assert_eq!(refused.report.outcome, Outcome::Refused);
    assert!(refused.report.findings[0].message.contains("left and right"));
    answers["axes"] = json!(["y", "-x", "z"]);
    answers["origin"] = json!([100, 0, 10]);
    // Design = axes(source - origin): (-100, 50, -10) becomes (50, 100, -10).
    assert!(near(path(&import(&drawing, &answers), 0)[0], [50.0, 100.0, -10.0]));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn order_direction_unit_and_small_gaps_change_nothing(
        ends in prop::collection::vec((prop::array::uniform3(-900_i32..900), prop::array::uniform3(-900_i32..900)), 1..12),
        order in any::<u64>(), gap in -0.02_f64..0.02,
    ) {
        // Ends on a grid of 1 mm, far from each other and from being in line, and none mirrored.
        let lines: Vec<([f64; 3], [f64; 3])> = ends
            .iter()
            .enumerate()
            .map(|(index, (from, to))| {
                let level = 40.0 * index as f64;
                let at = |place: &[i32; 3]| [f64::from(place[0]), f64::from(place[1]) + 2000.0, f64::from(place[2]) / 100.0 + level];
                (at(from), at(to))
            })
            .filter(|(from, to)| (0..3).map(|axis| (from[axis] - to[axis]).powi(2)).sum::<f64>() > 40_000.0)
            .collect();
        prop_assume!(!lines.is_empty());
        let mut plain = Drawing::new(4);
        for (from, to) in &lines {
            plain.line("T", *from, *to);
        }
        let mut mixed = Drawing::new(1);
        let inch = |place: [f64; 3], off: f64| [place[0] / 25.4, place[1] / 25.4, (place[2] + off) / 25.4];
        let count = lines.len();
        for step in 0..count {
            let (from, to) = lines[(step + order as usize % count) % count];
            if order >> (step % 60) & 1 == 1 { mixed.line("T", inch(from, 0.0), inch(to, gap)) } else { mixed.line("T", inch(to, 0.0), inch(from, gap)) };
        }
        let (one, other) = (import(&plain, &sections()), import(&mixed, &sections()));
        prop_assert_eq!(one.report.counts.tubes, count);
        prop_assert_eq!(other.report.counts.tubes, count);
        let close = |a: [f64; 3], b: [f64; 3]| (0..3).all(|axis| (a[axis] - b[axis]).abs() < 0.025);
        for member in 0..one.design.as_ref().unwrap()["members"].as_array().unwrap().len() {
            let own = path(&one, member);
            let found = (0..other.design.as_ref().unwrap()["members"].as_array().unwrap().len()).any(|there| {
                let there = path(&other, there);
                (close(own[0], there[0]) && close(own[1], there[1])) || (close(own[0], there[1]) && close(own[1], there[0]))
            });
            prop_assert!(found);
        }
    }
}
