//! When an end left long is trimmed, which mark of a bend is meant, and which kerf is counted on: every sheet says the same.

use super::{demo_sheets, document};
use crate::pack::fixture::issue;
use crate::pack::*;
use crate::render::Page;
use crate::sheets::{End, StepKind};
use crate::words::EN;

/// All words of the pages whose title begins so, in one line.
fn words(pages: &[Page], title: &str) -> String {
    let shown = pages.iter().filter(|page| page.title.starts_with(title));
    shown.flat_map(|page| page.drawing.texts().map(|text| text.content.clone())).collect::<Vec<_>>().join(" ")
}

fn pages() -> Vec<Page> {
    document(&demo_sheets(), &issue(Paper::A4, Status::Issued)).expect("renders").0.pages
}

#[test]
fn every_sheet_names_the_step_at_which_an_end_left_long_is_trimmed() {
    let (sheets, pages) = (demo_sheets(), pages());
    let (cut_sheet, fit_up) = (words(&pages, "Cut sheet"), words(&pages, "Fit-up order"));
    let whole = words(&pages, "");
    let mut ends = 0;
    for row in &sheets.cut_sheet.rows {
        for end in [End::From, End::To].into_iter().filter(|end| row.leave_long[end.position()] > 0.0) {
            ends += 1;
            let step = sheets.fit_up.trimmed_at(&row.member, end).expect("a step");
            let said = format!("at step {step} of the fit-up order and no sooner");
            assert!(cut_sheet.contains(&said), "{} {said}", row.member);
            let wraps = sheets.wraps.iter().filter(|wrap| wrap.member == row.member && wrap.end == end);
            assert_eq!(wraps.count(), 1);
            let step = sheets.fit_up.steps.iter().find(|known| known.number == step).expect("a step");
            assert_eq!((step.kind, &step.member), (StepKind::Trim, &row.member));
            assert!(fit_up.contains(&format!("Trim {}", row.member)));
            // Once on its wrap, and once at least on the cut sheet.
            assert!(whole.matches(&format!("cut it {said}")).count() >= 1, "{} {said}", row.member);
        }
    }
    assert_eq!(ends, 8);
    for hoop in ["main_hoop", "front_hoop"] {
        let step = sheets.fit_up.trimmed_at(hoop, End::From).expect("a step");
        for title in [format!("Bend sheet {hoop}"), format!("Jig sheet {hoop}")] {
            assert!(words(&pages, &title).contains(&format!("trimmed at step {step}")), "{title}");
        }
    }
    for contradiction in ["mm now", "trim at fit-up", "before you trim.  Hold"] {
        assert!(!whole.contains(contradiction), "{contradiction}");
    }
    // 40 mm left long on feet 4 mm over the bed.
    assert!(words(&pages, "Jig sheet main_hoop").contains("36.0 mm below the base plane"));
}

#[test]
fn every_tangent_mark_says_whether_its_bend_starts_or_ends_there() {
    let (sheets, whole) = (demo_sheets(), words(&pages(), ""));
    let figures = layout::figures::Figures { units: Units::Mm, words: &EN };
    for sheet in &sheets.bend_sheets {
        let (first, last) = (&sheet.marks[0], &sheet.marks[sheet.marks.len() - 1]);
        let first = format!("where bend 1 starts, at {} on the blank", figures.length(first.start));
        let last = format!("where bend {} ends, at {} on the blank", last.bend, figures.length(last.end));
        assert!(whole.contains(&first) && whole.contains(&last), "{first}, {last}");
    }
    assert!(!whole.contains("tangent mark of bend"));
}

#[test]
fn the_stock_plan_says_which_kerf_it_counts_on_and_how_to_check_it() {
    let plan = words(&pages(), "Stock plan");
    for said in [
        "Counts on a kerf of 2.00 mm",
        "Counts on a kerf of 1.50 mm",
        "measure a scrap, saw it in two",
        "Every bar keeps",
    ] {
        assert!(plan.contains(said), "{said}: {plan}");
    }
}
