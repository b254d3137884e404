//! The frames that packs are tested with, by the demo's documents.

use crate::document::OneKit;
use crate::sheets::{Changes, Sheets};

/// The sheets of the demo that the service comes with.
pub(super) fn demo_sheets() -> Sheets {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../server/demo/rev_b.json");
    let mut evaluation = crate::evaluate(&std::fs::read_to_string(path).expect("the demo"));
    evaluation.number(None);
    evaluation.sheets.expect("no errors")
}

/// What changed from the demo's first revision to its second.
pub(super) fn demo_changes() -> Changes {
    demo_revisions().1
}

/// The sheets of the demo's two revisions, and what changed.
pub(super) fn demo_revisions() -> ([Sheets; 2], Changes) {
    revisions_with(&[])
}

/// The same with some words of both documents replaced by others.
pub(super) fn revisions_with(replaced: &[(&str, &str)]) -> ([Sheets; 2], Changes) {
    let path = |letter: &str| format!("{}/../server/demo/rev_{letter}.json", env!("CARGO_MANIFEST_DIR"));
    let [old, mut new] = ["a", "b"].map(|letter| {
        let text = std::fs::read_to_string(path(letter)).expect("the demo");
        crate::evaluate(&replaced.iter().fold(text, |text, (was, is)| text.replace(was, is)))
    });
    let mut old = old;
    let before = old.number(None).expect("no errors");
    let after = new.number(Some((&old, &before))).expect("no errors");
    let changes = new.changes_from(&after, &old, &before).expect("no errors");
    ([old, new].map(|evaluation| evaluation.sheets.expect("no errors")), changes)
}

/// The demo's first revision, and what it becomes when some of its words are replaced.
pub(super) fn revised(replaced: &[(&str, &str)]) -> ([Sheets; 2], Changes) {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../server/demo/rev_a.json");
    let text = std::fs::read_to_string(path).expect("the demo");
    let changed = replaced.iter().fold(text.clone(), |text, (was, is)| {
        assert!(text.contains(was), "{was}");
        text.replace(was, is)
    });
    let [mut old, mut new] = [text, changed].map(|text| crate::evaluate(&text));
    let before = old.number(None).expect("no errors");
    let after = new.number(Some((&old, &before))).expect("no errors");
    let changes = new.changes_from(&after, &old, &before).expect("no errors");
    ([old, new].map(|evaluation| evaluation.sheets.expect("no errors")), changes)
}

/// The sheets of a kit of the demo whose hoop stands 4 mm wider than drawn.
pub(super) fn measured_sheets() -> Sheets {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../server/demo/rev_b.json");
    let document = std::fs::read_to_string(path).expect("the demo");
    let kit = OneKit { measured: [("hoop_spread".to_owned(), 1124.0)].into(), ..OneKit::default() };
    let mut evaluation = crate::evaluate_for(&document, &kit);
    evaluation.number(None);
    evaluation.sheets.expect("no errors")
}
