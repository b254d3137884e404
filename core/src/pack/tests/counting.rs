//! Of two lists that name the same part one counts, and both say which: the list of what changed, and that of a notice.

use super::delta::words;
use super::{demo_revisions, document, measured_sheets, told};
use crate::pack::fixture::issue;
use crate::pack::*;
use crate::sheets::{ChangeKind, Changes};

/// The pack of a kit that was moved from the demo's first revision to its second and back, with a notice of that change.
fn moved_back(sheets: &Sheets, changes: &Changes, back: Changes, change: impl Fn(&mut Notice)) -> Document {
    let mut issue = told(issue(Paper::A4, Status::Issued));
    issue.revision = "A".to_owned();
    let pack_number = "2".to_owned();
    issue.since = Some(Since {
        revision: "B".to_owned(),
        pack_number,
        changes: back,
        only: false,
        pages: Vec::new(),
        stale: Vec::new(),
        moved_to: None,
    });
    issue.recalls.clear();
    issue.notices.truncate(1);
    issue.notices[0].work = Some(changes.clone());
    change(&mut issue.notices[0]);
    document(sheets, &issue).expect("renders").0
}

/// Marks of the parts that a list names as changed.
fn changed(changes: &Changes) -> Vec<&str> {
    let changed = changes.parts.iter().filter(|part| part.kind != ChangeKind::Unchanged);
    changed.map(|part| part.member.as_str()).collect()
}

const NOTICE_COUNTS: &str = "For the parts below this notice counts, and the list of what changed does not.";
const LIST_COUNTS: &str = "that list counts, and not this one";

#[test]
fn where_a_kit_came_back_the_notice_counts_and_the_list_of_what_changed_says_so() {
    let ([old, _], changes) = demo_revisions();
    let back = back();
    for sheets in [&old, &measured_sheets()] {
        let pack = moved_back(sheets, &changes, back.clone(), |_| {});
        let (notice, list) = (words(&pack, "Notices"), words(&pack, "What changed"));
        assert!(notice.contains(NOTICE_COUNTS) && !notice.contains(LIST_COUNTS), "{notice}");
        // Nothing of the list tells to do anything to a part that the notice names.
        assert!(changed(&changes).len() > 5);
        for work in ["Trim end", "Rework: ", "Do not fit the old part", "left out, after", "new, after"] {
            assert!(!list.contains(work), "{work}: {list}");
        }
        for part in changed(&changes) {
            let said = format!("{part} notice 1 counts");
            assert!(list.contains(&said), "{said}: {list}");
        }
        let cover = words(&pack, "Cover");
        assert!(!cover.contains("to rework"), "{cover}");
    }
}

#[test]
fn where_its_work_is_done_or_stopped_the_list_says_the_same() {
    let ([old, _], changes) = demo_revisions();
    let done = moved_back(&old, &changes, back(), |notice| notice.done = Some("2026-11-24".to_owned()));
    let (notice, list) = (words(&done, "Notices"), words(&done, "What changed"));
    assert!(notice.contains(NOTICE_COUNTS), "{notice}");
    assert!(list.contains("harness_bar notice 1 counts, which was done on 2026-11-24"), "{list}");
    let stopped = moved_back(&old, &changes, back(), |notice| notice.is_stopped = true);
    let list = words(&stopped, "What changed");
    assert!(list.contains("harness_bar do nothing to it until the supplier says how: notice 1 is stopped"), "{list}");
    assert!(!list.contains("Trim end "), "{list}");
}

#[test]
fn where_the_pack_has_the_change_the_list_of_what_changed_counts_and_says_so() {
    let mut issue = told(issue(Paper::A4, Status::Issued));
    issue.notices.remove(0);
    issue.notices.truncate(1);
    // The list that the notice was raised with is not the one of this kit.
    let work = issue.notices[0].work.as_mut().expect("it is known");
    let trimmed = work.parts.iter_mut().find(|part| !part.trims.is_empty()).expect("one to trim");
    trimmed.trims[0].most += 1.0;
    for sheets in [super::demo_sheets(), measured_sheets()] {
        let pack = document(&sheets, &issue).expect("renders").0;
        let (notice, list) = (words(&pack, "Notices"), words(&pack, "What changed"));
        assert!(notice.contains(LIST_COUNTS) && !notice.contains(NOTICE_COUNTS), "{notice}");
        assert!(list.contains("Notice 2 names parts of this list too: this list counts for them."), "{list}");
        assert!(list.contains("Trim end "), "{list}");
    }
}

/// Else a part that was trimmed for a notice is trimmed again.
#[test]
fn what_was_done_before_the_kit_got_the_revision_is_not_asked_for_again() {
    let mut issue = told(issue(Paper::A4, Status::Issued));
    issue.notices.remove(0);
    issue.notices.truncate(1);
    issue.notices[0].done = Some("2026-11-20".to_owned());
    let pack = document(&super::demo_sheets(), &issue).expect("renders").0;
    let (notice, list) = (words(&pack, "Notices"), words(&pack, "What changed"));
    assert!(notice.contains("the parts listed below are made already") && notice.contains(NOTICE_COUNTS), "{notice}");
    assert!(list.contains("harness_bar notice 2 counts, which was done on 2026-11-20: leave it as it was"), "{list}");
    for work in ["Trim end", "Do not fit the old part"] {
        assert!(!list.contains(work), "{work}: {list}");
    }
    // What is checked now is a figure of this revision.
    assert!(list.contains("694 706") && !words(&pack, "Check dimensions").contains("do not go by"), "{list}");
}

/// What is on record of a notice says nothing of what was measured.
#[test]
fn a_notice_to_a_kit_with_measured_values_says_that_its_pages_are_worked_out_with_them() {
    let mut issue = told(issue(Paper::A4, Status::Issued));
    issue.since = None;
    let said = words(&document(&measured_sheets(), &issue).expect("renders").0, "Notices");
    let wanted = "worked out for the frame as designed. The pages of this notice are worked out for the kit as measured: where they say something else, they count.";
    assert!(said.contains(wanted), "{said}");
    let said = words(&document(&super::demo_sheets(), &issue).expect("renders").0, "Notices");
    assert!(!said.contains("as measured"), "{said}");
}

/// The demo's bar stands 12 mm further out in its second revision, which is a check dimension of its own and one of the widths.
#[test]
fn a_check_dimension_that_a_notice_changes_is_marked_wherever_it_stands() {
    let ([old, _], mut changes) = demo_revisions();
    let mut of_height = changes.checks[0].clone();
    of_height.name = "harness_height".to_owned();
    changes.checks.retain(|check| check.name != "harness_height");
    changes.checks.push(of_height);
    let names: Vec<String> = changes.checks.iter().map(|check| check.name.clone()).collect();
    let is_there = |name: &&String| old.checks.iter().any(|check| check.name == **name);
    let there = names.iter().filter(is_there).count();
    let open = moved_back(&old, &changes, back(), |_| {});
    let marked = "do not go by this figure: read notice 1 first, it changes it";
    assert_eq!(words(&open, "Check dimensions").matches(marked).count(), there);
    let fit_up = words(&open, "Fit-up order");
    assert!(fit_up.contains("harness_height: do not go by its figure: read notice 1 first, it changes it"), "{fit_up}");
    assert!(!fit_up.contains("sill_diagonal: do not"), "{fit_up}");
    let height = old.checks.iter().find(|check| check.name == "harness_height").expect("the demo has it").nominal;
    let views: String = open
        .pages
        .iter()
        .filter(|page| page.title == "Frame, three views")
        .flat_map(|page| page.drawing.texts())
        .map(|text| format!("{}|", text.content))
        .collect();
    assert!(views.contains(&format!("|{height:.1}, notice 1|")), "{views}");
    let done = moved_back(&old, &changes, back(), |notice| notice.done = Some("2026-11-24".to_owned()));
    let marked = "do not go by this figure: notice 1, which is done, changed it; go by the pages of that";
    assert_eq!(words(&done, "Check dimensions").matches(marked).count(), there);
    let free = moved_back(&old, &changes, back(), |notice| notice.is_in_pack = true);
    assert!(!words(&free, "Check dimensions").contains("do not go by"));
}

/// A part of an earlier revision than the one before was in a pack, though not in the last one.
#[test]
fn new_parts_are_said_to_be_new_since_the_revision_before_and_no_more() {
    let ([_, new], _) = demo_revisions();
    let mut issue = told(issue(Paper::A4, Status::Issued));
    issue.notices.clear();
    let added = issue.since.as_mut().expect("a pack before").changes.parts.iter_mut();
    for part in added {
        part.kind = ChangeKind::Added;
        part.trims.clear();
        part.drill.clear();
        part.reason = None;
    }
    let list = words(&document(&new, &issue).expect("renders").0, "What changed");
    for never in ["in no pack before", "New in this revision", "the old kit"] {
        assert!(!list.contains(never), "{never}: {list}");
    }
    let wanted = "The revision before has none of these. One of the same number from an earlier pack of this kit serves, if the number has no /M and no notice or recall is against it.";
    assert!(list.contains(wanted), "{list}");
}

/// What changed from the demo's second revision to its first.
fn back() -> Changes {
    let path = |letter: &str| format!("{}/../server/demo/rev_{letter}.json", env!("CARGO_MANIFEST_DIR"));
    let [mut a, mut b] =
        ["a", "b"].map(|letter| crate::evaluate(&std::fs::read_to_string(path(letter)).expect("the demo")));
    let first = a.number(None).expect("no errors");
    let second = b.number(Some((&a, &first))).expect("no errors");
    a.changes_from(&first, &b, &second).expect("no errors")
}
