//! A pack of what changed beside the pack before: what stays valid of that, and that no number stands for two things.

use super::{demo_revisions, document, says};
use crate::pack::fixture::issue;
use crate::pack::*;
use crate::sheets::{ChangeKind, Changes, StepKind};
use std::collections::BTreeSet;

/// The pages of the demo's first revision as the holder of a kit has them.
fn pages_before(old: &Sheets, paper: Paper) -> Vec<PageBefore> {
    let mut issue = issue(paper, Status::Issued);
    issue.revision = "A".to_owned();
    let pages = document(old, &issue).expect("renders").0.pages.into_iter();
    pages.zip(1..).map(|(page, number)| PageBefore { pack: "1".to_owned(), page: number, title: page.title }).collect()
}

fn issue_of(changes: Changes, pages: Vec<PageBefore>, paper: Paper) -> Issue {
    let since = Since { revision: "A".to_owned(), pack_number: "1".to_owned(), changes, only: true, pages };
    Issue { since: Some(since), ..issue(paper, Status::Issued) }
}

fn drawn(sheets: &Sheets, issue: &Issue) -> Document {
    let since = issue.since.as_ref().expect("a pack of what changed");
    document(&changes::changed_only(sheets, &since.changes), issue).expect("renders").0
}

/// A pack of what changed on some paper.
pub(super) fn pack(paper: Paper) -> (Issue, Document) {
    let ([old, new], changes) = demo_revisions();
    let issue = issue_of(changes, pages_before(&old, paper), paper);
    let drawn = drawn(&new, &issue);
    (issue, drawn)
}

fn words(document: &Document, title: &str) -> String {
    let of_title = document.pages.iter().filter(|page| page.title == title).flat_map(|page| page.drawing.texts());
    of_title.map(|text| text.content.as_str()).collect::<Vec<_>>().join(" ")
}

/// The numbers that `1 to 3, 7` stands for, up to the first word that is none.
fn numbers(said: &str) -> BTreeSet<usize> {
    let mut found = BTreeSet::new();
    let (mut from, mut is_open) = (0, false);
    for word in said.split(' ') {
        let bare = word.trim_end_matches([',', '.']);
        let Ok(number) = bare.parse::<usize>() else {
            if word == "to" && is_open {
                is_open = false;
                continue;
            }
            break;
        };
        // After a number without a comma comes `to`, or something else.
        if is_open {
            break;
        }
        found.extend(if from > 0 { from..=number } else { number..=number });
        is_open = bare == word;
        from = if is_open { number } else { 0 };
    }
    found
}

#[test]
fn every_page_of_the_pack_before_is_kept_or_crossed_out_by_its_number() {
    let ([old, new], changes) = demo_revisions();
    let before = pages_before(&old, Paper::A4);
    let issue = issue_of(changes.clone(), before.clone(), Paper::A4);
    let document = drawn(&new, &issue);
    let said = words(&document, "What changed");
    let after = |from: &str| {
        let at = said.find(from).unwrap_or_else(|| panic!("{from}: {said}"));
        &said[at + from.len()..]
    };
    let kept = numbers(after("keep, whole pages "));
    let gone = numbers(after("cross out, whole pages "));
    let in_part: BTreeSet<usize> =
        (1..=before.len()).filter(|page| !kept.contains(page) && !gone.contains(page)).collect();
    assert!(kept.is_disjoint(&gone) && kept.len() > 40 && gone.len() > 10, "{kept:?} {gone:?}");
    let table = after("Keep these but for what is crossed out:");
    for page in &in_part {
        let title = &before[page - 1].title;
        assert!(table.contains(title.split("; ").next().expect("a title")), "{page}: {title}");
    }
    let kind = |mark: &str| changes.parts.iter().find(|part| part.member == mark).map(|part| part.kind);
    for PageBefore { page, title, .. } in &before {
        let marks: Vec<&str> = title
            .split("; ")
            .filter_map(|part| part.strip_prefix("Wrap "))
            .filter_map(|wrap| wrap.split(',').next())
            .collect();
        if marks.is_empty() {
            continue;
        }
        let stays = |mark: &str| matches!(kind(mark), Some(ChangeKind::Unchanged | ChangeKind::Moved));
        let (all, none) = (marks.iter().all(|mark| stays(mark)), !marks.iter().any(|mark| stays(mark)));
        assert_eq!((kept.contains(page), gone.contains(page)), (all, none), "{page}: {title}");
    }
    for title in ["Cover", "Frame, three views", "Frame, pictorial", "Stock plan"] {
        assert!(before.iter().filter(|page| page.title == title).all(|page| gone.contains(&page.page)), "{title}");
    }
    let cut_sheet = before.iter().find(|page| page.title == "Cut sheet").expect("a cut sheet");
    assert!(in_part.contains(&cut_sheet.page) && table.contains("harness_bar, hoop_diag_up"), "{table}");
}

#[test]
fn no_page_of_changes_says_at_once_to_keep_and_never_to_mix() {
    let (_, document) = pack(Paper::Letter);
    for Page { title, drawing, .. } in &document.pages {
        assert!(!says(drawing, "must not be mixed"), "{title}");
        assert!(says(drawing, "lists stays valid"), "{title}");
    }
    let cover = words(&document, "Cover");
    for said in ["Changes only, for the holder of pack 1 of revision A", "cross out the rest before you use any page"] {
        assert!(cover.contains(said), "{said}: {cover}");
    }
}

#[test]
fn steps_keep_the_numbers_of_the_whole_revision_and_name_those_before() {
    let ([old, new], changes) = demo_revisions();
    let (_, document) = pack(Paper::A4);
    let fit_up = words(&document, "Fit-up order");
    let what_changed = words(&document, "What changed");
    let step = |sheets: &Sheets, mark: &str| {
        sheets.fit_up.steps.iter().find(|step| step.member == mark).map(|step| step.number)
    };
    let mut shown = 0;
    for part in changes.parts.iter().filter(|part| part.new_number.is_some() && part.kind != ChangeKind::Unchanged) {
        let number = step(&new, &part.member).expect("a step");
        let before = match step(&old, &part.member) {
            Some(before) => format!("(step {before} before)"),
            None => "(new)".to_owned(),
        };
        let from = fit_up.find(&format!("{number} {}", part.member));
        let title = &fit_up[from.unwrap_or_else(|| panic!("{number} {}: {fit_up}", part.member))..];
        let (own, _) = title.split_at(title.find(&before).unwrap_or_else(|| panic!("{before}: {title}")));
        assert!(own.len() < 120 && own.contains(part.new_number.as_deref().unwrap_or_default()), "{own}");
        shown += 1;
    }
    assert!(shown > 5, "{shown}");
    // Each old step has one fate: it is crossed out, or it has one number in the new order.
    let mut taken = BTreeSet::new();
    for place in &changes.order {
        let (Some(before), true) = (place.old, place.same) else { continue };
        let now = place.new.expect("it stays");
        assert!(taken.insert(now) && !changes.order.iter().any(|other| other.new == Some(now) && !other.same));
        let same = |sheets: &Sheets, number: usize| {
            let step = &sheets.fit_up.steps[number - 1];
            (step.member.clone(), step.kind, step.note.clone())
        };
        assert_eq!(same(&old, before), same(&new, now));
    }
    let crossed = numbers(&what_changed[what_changed.find("steps ").expect("steps") + 6..]);
    let wanted: BTreeSet<usize> =
        changes.order.iter().filter(|place| !place.same).filter_map(|place| place.old).collect();
    assert_eq!(crossed, wanted);
    assert!(what_changed.contains(" become ") && new.fit_up.steps.iter().any(|step| step.kind == StepKind::Work));
}

#[test]
fn bars_and_parts_are_counted_for_what_is_made_anew_only() {
    let (_, changes) = demo_revisions();
    let (_, document) = pack(Paper::A4);
    let of_kinds = |kinds: &[ChangeKind]| {
        let parts = changes.parts.iter().filter(|part| kinds.contains(&part.kind));
        parts.filter_map(|part| part.new_number.clone()).collect::<Vec<_>>()
    };
    let sawn = of_kinds(&[ChangeKind::Replace, ChangeKind::Added]);
    let made = of_kinds(&[ChangeKind::Rework, ChangeKind::Replace, ChangeKind::Added]);
    let plan = words(&document, "Stock plan");
    assert!(plan.contains("Bars for the tubes that are replaced or new"), "{plan}");
    assert!(sawn.len() > 2 && sawn.iter().all(|number| plan.contains(number.as_str())), "{sawn:?}: {plan}");
    let reworked = of_kinds(&[ChangeKind::Rework]);
    assert!(reworked.iter().all(|number| sawn.contains(number) || !plan.contains(number.as_str())));
    let numbers: BTreeSet<&String> = made.iter().collect();
    let list = words(&document, "Parts list");
    assert!(list.contains(&format!("{} parts of {} numbers", made.len(), numbers.len())), "{list}");
}

#[test]
fn without_the_pages_before_it_is_said_by_marks_what_stays() {
    let ([_, new], changes) = demo_revisions();
    let document = drawn(&new, &issue_of(changes, Vec::new(), Paper::A4));
    let said = words(&document, "What changed");
    assert!(said.contains("What stays valid of the pages before") && said.contains("harness_bar"), "{said}");
}
