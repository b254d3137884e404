//! Pages with drawings: numbers, leaders and dimensions.

use crate::Stop;
use crate::drawing::{Drawing, Item, Pen, Point, Segment};
use crate::pack::fixture::{issue, reckoned_sheets};
use crate::pack::kinds::drawings::Standing;
use crate::pack::kinds::{Drawn, fit_up};
use crate::pack::{Content, Furniture, Paper, Status, drawings, furniture};
use crate::sheets::{FitUpStep, Sheets, StepKind};

fn demo_sheets() -> Sheets {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../server/demo/rev_b.json");
    let mut evaluation = crate::evaluate(&std::fs::read_to_string(path).unwrap());
    evaluation.number(None);
    evaluation.sheets.unwrap()
}

/// Drawing pages of both frames on all papers.
fn all_pages(pages: fn(&Sheets, Option<&Standing>, Furniture) -> Drawn) -> Vec<(String, Drawing)> {
    let mut all = Vec::new();
    for sheets in [reckoned_sheets(), demo_sheets()] {
        for paper in Paper::ALL {
            let issue = issue(paper, Status::Issued);
            let contents =
                pages(&sheets, Standing::of(&sheets, Stop::NEVER).unwrap().as_ref(), furniture(&issue).unwrap())
                    .unwrap();
            assert!(!contents.is_empty());
            all.extend(contents.into_iter().map(|content| {
                (
                    format!("{paper:?} {:?}", content.begins.iter().map(|on| &on.title).collect::<Vec<_>>()),
                    content.drawing,
                )
            }));
        }
    }
    all
}

/// Leaders: from the part to where they turn level, and on to the number.
fn leaders(drawing: &Drawing) -> Vec<[Point; 3]> {
    let leader = |item: &Item| {
        let Item::Path(path) = item else { return None };
        match path.segments[..] {
            [Segment::Move(a), Segment::Line(b), Segment::Line(c)] if path.pen == Some(Pen::Thin) => Some([a, b, c]),
            _ => None,
        }
    };
    drawing.items.iter().filter_map(leader).collect()
}

fn cross(a: [Point; 2], b: [Point; 2]) -> bool {
    let side = |[from, to]: [Point; 2], at: Point| {
        (to[0] - from[0]) * (at[1] - from[1]) - (to[1] - from[1]) * (at[0] - from[0])
    };
    side(a, b[0]) * side(a, b[1]) < 0.0 && side(b, a[0]) * side(b, a[1]) < 0.0
}

#[test]
fn no_leader_crosses_another() {
    for pages in [drawings::pages, fit_up::pages] {
        let mut count = 0;
        for (what, drawing) in all_pages(pages) {
            let leaders = leaders(&drawing);
            count += leaders.len();
            for (index, one) in leaders.iter().enumerate() {
                for other in &leaders[..index] {
                    for a in one.windows(2) {
                        for b in other.windows(2) {
                            assert!(!cross([a[0], a[1]], [b[0], b[1]]), "{what}: {one:?} {other:?}");
                        }
                    }
                }
            }
        }
        assert!(count > 100);
    }
}

#[test]
fn every_part_number_stands_on_the_pictorial_and_once_in_the_views() {
    let sheets = demo_sheets();
    let issue = issue(Paper::A4, Status::Issued);
    let contents =
        drawings::pages(&sheets, Standing::of(&sheets, Stop::NEVER).unwrap().as_ref(), furniture(&issue).unwrap())
            .unwrap();
    let page = contents.iter().find(|content| content.begins.iter().any(|on| on.title.contains("pictorial"))).unwrap();
    let count = |drawing: &Drawing, number: &str| drawing.texts().filter(|text| text.content == number).count();
    let views: Vec<&Content> = contents.iter().filter(|content| !std::ptr::eq(*content, page)).collect();
    for part in &sheets.parts {
        let in_views: usize = views.iter().map(|content| count(&content.drawing, &part.number)).sum();
        let in_pictorial = count(&page.drawing, &part.number);
        assert!(in_pictorial <= 1 && in_views <= 1 && in_pictorial + in_views > 0, "{}", part.number);
    }
    let missing = sheets.parts.iter().filter(|part| count(&page.drawing, &part.number) == 0).count();
    assert!(missing <= 1, "{missing} numbers are not on the pictorial");
}

#[test]
fn every_part_is_dark_and_named_at_its_own_step() {
    let sheets = demo_sheets();
    let issue = issue(Paper::Letter, Status::Issued);
    let contents =
        fit_up::pages(&sheets, Standing::of(&sheets, Stop::NEVER).unwrap().as_ref(), furniture(&issue).unwrap())
            .unwrap();
    let mut named = 0;
    for content in &contents {
        let has = |pen: Pen| content.drawing.paths().any(|path| path.pen == Some(pen));
        assert!(has(Pen::Edge));
        named += leaders(&content.drawing).len();
    }
    let parts = sheets.cut_sheet.rows.len() + sheets.plates.len();
    // Where a part that stands already is trimmed it is named again.
    let is_again = |step: &&FitUpStep| {
        step.kind == StepKind::Trim && sheets.fit_up.placed_at(&step.member).is_some_and(|placed| placed < step.number)
    };
    let again = sheets.fit_up.steps.iter().filter(is_again).count();
    // A part that lies hidden behind others has no leader.
    assert!(named <= parts + again && named + 3 >= parts, "{named} of {parts}");
}

#[test]
fn dimensions_say_what_the_frame_measures() {
    let sheets = reckoned_sheets();
    let issue = issue(Paper::A3, Status::Issued);
    let contents =
        drawings::pages(&sheets, Standing::of(&sheets, Stop::NEVER).unwrap().as_ref(), furniture(&issue).unwrap())
            .unwrap();
    let says = |words: &str| contents.iter().any(|content| content.drawing.texts().any(|text| text.content == words));
    let width = sheets.checks.iter().find(|check| check.name == "feet").unwrap();
    assert!(says(&format!("{:.1}", width.nominal)));
    // From the base plane to the top of the hoop: its centreline at 1200, half of 45 above.
    assert!(says("(1222.5)"));
    assert!(says("seen from the left") && says("seen from above") && says("seen from the front"));
}
