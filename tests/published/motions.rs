//! What must not change a part: moving the whole frame, naming its ends the other way round, mirroring it.

use crate::document::{document, evaluated};
use matchmark_core::Evaluation;
use matchmark_core::part::compare::same;
use proptest::prelude::*;
use serde_json::{Value, json};

type Place = [f64; 3];

/// A small frame with a hoop, rails and braces, every point put through `at`, `swap` naming ends the other way round.
fn frame(at: &dyn Fn(Place) -> Place, swap: bool, height: f64, lean: f64) -> Value {
    let p = |x: f64, y: f64, z: f64| json!(at([x, y, z]));
    let straight = |id: &str, section: &str, a: Value, b: Value| {
        let (from, to) = if swap { (b, a) } else { (a, b) };
        json!({"id": id, "section": section, "from": from, "to": to})
    };
    let on_leg = |z: f64, hand: f64| p(lean * z / height, hand * (420.0 - 20.0 * z / height), z);
    let corners = [p(0.0, 420.0, 0.0), p(lean, 400.0, height), p(lean, -400.0, height), p(0.0, -420.0, 0.0)];
    let path: Vec<Value> = if swap { corners.iter().rev().cloned().collect() } else { corners.to_vec() };
    document(json!({
        "members": [
            {"id": "hoop", "section": "hoop", "path": path, "radius": 150, "ends": {"from": "square", "to": "square"}},
            {"id": "sill", "section": "hoop", "from": p(-900.0, -380.0, 60.0), "to": p(-900.0, 380.0, 60.0), "ends": {"from": "square", "to": "square"}},
            straight("rail", "brace", on_leg(120.0, 1.0), p(-900.0, 300.0, 60.0)),
            straight("tie", "brace", p(-900.0, 0.0, 60.0), p(lean, 0.0, height)),
            straight("brace", "brace", p(-900.0, -200.0, 60.0), on_leg(200.0, -1.0)),
            // Off the axis of the sill, so that part of its wall misses.
            straight("aside", "hoop", p(-900.0, 60.0, 66.0), p(-700.0, 60.0, 400.0)),
        ],
    }))
}

fn shapes(evaluation: &Evaluation) -> Vec<matchmark_core::part::compare::Shape> {
    let made = evaluation.made.as_ref().expect("no errors");
    (0..made.parts.len()).map(|member| made.shape(member)).collect()
}

fn rigid(turn: [f64; 3], shift: Place) -> impl Fn(Place) -> Place {
    move |[x, y, z]| {
        let ([sa, ca], [sb, cb], [sc, cc]) =
            ([turn[0].sin(), turn[0].cos()], [turn[1].sin(), turn[1].cos()], [turn[2].sin(), turn[2].cos()]);
        let (x, y) = (ca * x - sa * y, sa * x + ca * y);
        let (x, z) = (cb * x + sb * z, -sb * x + cb * z);
        let (y, z) = (cc * y - sc * z, sc * y + cc * z);
        [x + shift[0], y + shift[1], z + shift[2]]
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn moving_the_frame_changes_no_part(
        turn in prop::array::uniform3(-3.1..3.1), shift in prop::array::uniform3(-2000.0..2000.0),
        height in 500.0..900.0, lean in -200.0..-20.0,
    ) {
        let here = evaluated(&frame(&|place| place, false, height, lean));
        let there = evaluated(&frame(&rigid(turn, shift), false, height, lean));
        for (index, (a, b)) in shapes(&here).iter().zip(&shapes(&there)).enumerate() {
            let found = same(a, b);
            prop_assert!(found.is_some_and(|found| found.deviation < 0.005), "member {index}: {found:?}");
        }
        let masses = [&here, &there].map(|of| of.sheets.as_ref().expect("no errors").mass.mass_kg);
        prop_assert!((masses[0] - masses[1]).abs() < 1e-4, "{masses:?}");
    }

    #[test]
    fn naming_the_ends_the_other_way_round_changes_names_only(height in 500.0..900.0, lean in -200.0..-20.0) {
        let one = evaluated(&frame(&|place| place, false, height, lean));
        let other = evaluated(&frame(&|place| place, true, height, lean));
        for (a, b) in shapes(&one).iter().zip(&shapes(&other)) {
            let found = same(a, b);
            prop_assert!(found.is_some_and(|found| found.deviation < 0.005), "{found:?}");
        }
        let rows = |of: &Evaluation| of.sheets.as_ref().expect("no errors").cut_sheet.rows.clone();
        for (a, b) in rows(&one).iter().zip(&rows(&other)) {
            prop_assert!((a.overall - b.overall).abs() < 0.002 && (a.short - b.short).abs() < 0.002);
            prop_assert_eq!(&a.from.fits, &b.to.fits);
            prop_assert_eq!(&a.to.fits, &b.from.fits);
        }
    }

    #[test]
    fn a_mirrored_frame_has_mirrored_parts(height in 500.0..900.0, lean in -200.0..-20.0) {
        let one = evaluated(&frame(&|place| place, false, height, lean));
        let image = evaluated(&frame(&|[x, y, z]| [x, -y, z], false, height, lean));
        for (a, b) in shapes(&one).iter().zip(&shapes(&image)) {
            let found = same(&a.mirrored(), b);
            prop_assert!(found.is_some_and(|found| found.deviation < 0.005), "{found:?}");
        }
    }
}
