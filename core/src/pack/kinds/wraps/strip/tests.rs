//! What stays on the tube when a strip is cut out along its outer line.

use super::{Strip, draw};
use crate::Stop;
use crate::document::OneKit;
use crate::drawing::{Area, Drawing, Pen, Point, Text};
use crate::pack::fixture::{issue, reckoned_sheets, sheets};
use crate::pack::kinds::wraps::Subject;
use crate::pack::kinds::wraps::names::height_at;
use crate::pack::layout::furniture::Furniture;
use crate::pack::{Paper, Status, Units};
use crate::render::letters;
use crate::sheets::{Sheets, Wrap};
use crate::words::EN;

fn demo(measured: &[(&str, f64)]) -> Sheets {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../server/demo/rev_b.json");
    let measured = measured.iter().map(|(gauge, mm)| ((*gauge).to_owned(), *mm)).collect();
    let kit = OneKit { measured, ..OneKit::default() };
    let mut evaluation = crate::evaluate_for(&std::fs::read_to_string(path).expect("the demo"), &kit);
    evaluation.number(None);
    evaluation.sheets.expect("no errors")
}

/// The texts of a strip that lie wholly below its outer line and within its sides.
fn kept(drawing: &Drawing, closure: f64) -> Vec<&Text> {
    let outer: Vec<Point> = drawing
        .paths()
        .filter(|path| path.pen == Some(Pen::Cut) && path.points().count() > 4)
        .flat_map(|path| path.chords(8).into_iter().flat_map(|(a, b)| [a, b]).collect::<Vec<_>>())
        .collect();
    let is_below = |area: &Area| {
        let mut places = (0..=20).map(|step| area.x + f64::from(step) / 20.0 * area.width);
        area.x >= 0.0
            && area.right() <= closure
            && area.y >= 0.0
            // Where part of the wall misses there is no line: what stands there is not looked at.
            && places.all(|x| height_at(&outer, x).is_none_or(|y| y > area.top()))
    };
    let letters = letters().expect("compiled in");
    drawing.texts().filter(|text| is_below(&letters.area(text))).collect()
}

fn said(texts: &[&Text]) -> String {
    texts.iter().map(|text| text.content.as_str()).collect::<Vec<_>>().join(" ")
}

fn look_at(sheets: &Sheets, wrap: &Wrap, paper: Paper, units: Units) {
    let mut issue = issue(paper, Status::Issued);
    issue.print.units = units;
    let furniture =
        Furniture { letters: letters().expect("compiled in"), issue: &issue, words: &EN, stop: Stop::NEVER };
    let Strip { drawing, width, .. } = draw(Subject::of(sheets, wrap), f64::INFINITY, furniture);
    let what = format!("{} {:?} {units:?}", wrap.member, wrap.end);
    let said = said(&kept(&drawing, width - super::TAB));
    for fact in [issue.pack_number.as_str(), &issue.kit, &wrap.part_number, &furniture.figures().bare(wrap.overall)] {
        // A name may be broken at a hyphen or a stroke.
        assert!(said.replace(' ', "").contains(&fact.replace(' ', "")), "{what}: {fact}: {said}");
    }
    let named = wrap.member.split('.').next().expect("a mark");
    assert!(said.replace(' ', "").contains(named), "{what}: {said}");
    let long_points = [wrap.long_point, wrap.other_long_point].into_iter().flatten().count();
    let names = said.matches("long point").count();
    assert!(long_points == 0 || names >= long_points.min(1), "{what}: {said}");
}

#[test]
fn a_cut_out_wrap_says_whose_it_is_and_names_its_dash_dot_lines() {
    for sheets in [demo(&[]), demo(&[("hoop_spread", 1124.0)]), reckoned_sheets(), sheets()] {
        for wrap in &sheets.wraps {
            for units in [Units::Mm, Units::Inch, Units::InchFraction] {
                look_at(&sheets, wrap, Paper::A4, units);
            }
        }
    }
}

#[test]
fn wraps_of_a_part_that_measured_values_change_have_a_mark_of_their_own() {
    let (drawn, measured) = (demo(&[]), demo(&[("hoop_spread", 1124.0)]));
    let (mut changed, mut same) = (0, 0);
    for (before, now) in drawn.wraps.iter().zip(&measured.wraps) {
        assert_eq!((&before.member, before.end), (&now.member, now.end));
        if before.part_number == now.part_number {
            assert!((before.overall - now.overall).abs() < 0.2, "{}", before.member);
            same += 1;
        } else {
            assert_eq!(now.part_number.split('/').next(), Some(before.part_number.as_str()), "{}", now.member);
            changed += 1;
        }
    }
    assert!(changed > 4 && same > 40, "{changed} {same}");
    let parts: usize = measured.parts.iter().map(|part| part.quantity).sum();
    assert_eq!(parts, drawn.parts.iter().map(|part| part.quantity).sum::<usize>());
}
