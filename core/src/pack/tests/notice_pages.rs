//! The pages of a notice beside the pack of the kit: no step of theirs has a number of the order that is kept.

use super::{document, revised};
use crate::pack::fixture::issue;
use crate::pack::*;
use crate::render::Page;
use crate::sheets::Changes;

/// The pages of notice 3.
fn notice_pages(sheets: &Sheets, changes: &Changes) -> Vec<Page> {
    let since = Since {
        revision: "A".to_owned(),
        pack_number: "1".to_owned(),
        changes: changes.clone(),
        only: true,
        pages: Vec::new(),
        stale: Vec::new(),
        moved_to: None,
    };
    let notice_pages = Some(NoticePages { notice: 3, beside: 1, told: 12 });
    let issue = Issue { notice_pages, since: Some(since), ..issue(Paper::A4, Status::Issued) };
    document(&changes::changed_only(sheets, changes), &issue).expect("renders").0.pages
}

fn words(pages: &[Page], title: &str) -> String {
    let shown = pages.iter().filter(|page| page.title.starts_with(title));
    shown.flat_map(|page| page.drawing.texts().map(|text| text.content.clone())).collect::<Vec<_>>().join(" ")
}

const BAR: &str = "\"Measure the height of the harness bar at both ends and in the middle.\"";

/// Of the kept order a rail is shorter, a cross tube elsewhere, one thing to do is another, and one more comes last.
#[test]
fn the_steps_of_a_notice_have_numbers_of_their_own_and_say_when_they_are_done() {
    let last = "\"after\": \"harness_bar\", \"checks\": [\"harness_height\"]}";
    let one_more =
        format!("{last},\n    {{\"what\": \"Stamp the serial into the plate.\", \"after\": \"tow_tube.R\"}}");
    let ([old, new], changes) = revised(&[
        ("\"rear_tip.L\":        [-1270,", "\"rear_tip.L\":        [-1260,"),
        ("\"gearbox.L\":         [-700, 421.25, 21]", "\"gearbox.L\":         [-704, 420.45, 21]"),
        (BAR, "\"Measure the harness bar.\""),
        (last, &one_more),
    ]);
    assert!(!changes.renumbers_steps());
    let pages = notice_pages(&new, &changes);
    let fit_up = words(&pages, "Fit-up order");
    let shown: Vec<usize> = changes.order.iter().filter(|place| !place.same).filter_map(|place| place.new).collect();
    assert!(shown.len() > 5, "{shown:?}");
    for (number, place) in shown.iter().zip(1..) {
        let step = &new.fit_up.steps[number - 1];
        assert!(
            [step.member.clone(), format!("Trim {}", step.member), format!("After {}", step.member)]
                .iter()
                .any(|title| fit_up.contains(&format!(" N3.{place} {title} "))),
            "{place} {}: {fit_up}",
            step.member
        );
    }
    let number = |member: &str| old.fit_up.placed_at(member).expect("a step");
    let cross = number("gearbox_cross");
    assert!(fit_up.contains(&format!("(in place of step {cross})")), "{fit_up}");
    assert!(fit_up.contains(&format!("After harness_bar   (new, after step {})", number("harness_bar"))), "{fit_up}");
    let before_last = old.fit_up.steps.len();
    assert!(fit_up.contains(&format!("After tow_tube.R   (new, after step {before_last})")), "{fit_up}");
    // No box to tick stands before a number of the kept order.
    for page in pages.iter().filter(|page| page.title == "Fit-up order") {
        let numbers = page.drawing.texts().filter(|text| text.content.parse::<usize>().is_ok());
        assert_eq!(numbers.count(), 0);
    }
    // What names the step of a trim names it the same way.
    let trim = new.fit_up.trimmed_at("rear_rail.L", crate::sheets::End::To).expect("a step");
    let name = format!("N3.{}", shown.iter().position(|number| *number == trim).expect("shown") + 1);
    for title in ["Cut sheet", "Wrap rear_rail.L"] {
        let said = words(&pages, title);
        assert!(said.contains(&format!("at step {name} of the fit-up order")), "{title}: {said}");
    }
    assert!(fit_up.contains(&format!("trimmed at step {name}")), "{fit_up}");
}

#[test]
fn where_the_whole_order_is_told_anew_no_number_of_the_one_before_is_repeated() {
    let ([_, new], changes) = super::demo_revisions();
    assert!(changes.renumbers_steps());
    let pages = notice_pages(&new, &changes);
    let fit_up = words(&pages, "Fit-up order");
    for step in &new.fit_up.steps {
        assert!(fit_up.contains(&format!(" N3.{} ", step.number)), "{}: {fit_up}", step.number);
    }
    assert!(fit_up.contains("   (step 1 before)"), "{fit_up}");
}

/// They go with a pack, and are none.
#[test]
fn the_pages_of_a_notice_never_call_themselves_a_pack() {
    let ([_, new], changes) = super::demo_revisions();
    for sheets in [new, super::measured_sheets()] {
        let pages = notice_pages(&sheets, &changes);
        let said = words(&pages, "");
        assert!(said.contains("Put these pages together with those that stay valid"), "{said}");
        for never in ["this pack", "This pack", "both packs", "the pack before"] {
            let at = said.find(never).map(|at| &said[at.saturating_sub(80)..at + 80]);
            assert_eq!(at, None, "{never}");
        }
    }
}
