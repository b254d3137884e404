//! A pack in a language that nobody speaks: what is said with a plain vowel bypassed the catalogue.

use super::*;
use crate::words::PSEUDO;
use std::collections::{BTreeMap, BTreeSet};

/// The words of a text, as far as they have letters.
fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|letter: char| !letter.is_alphanumeric() && letter != '_').filter(|word| !word.is_empty())
}

/// A name, and what it is in two lines, broken after one of its strokes.
fn broken(name: &str) -> impl Iterator<Item = &str> {
    let pieces = name.match_indices('_').flat_map(|(at, _)| [&name[..=at], &name[at + 1..]]);
    std::iter::once(name).chain(pieces)
}

/// Whether a word has a vowel that a phrase of the pseudo-language would have accented.
fn is_plain(word: &str) -> bool {
    word.chars().count() > 2 && word.contains(|letter| "aeiouyAEIOUY".contains(letter))
}

#[test]
fn nothing_is_said_outside_the_catalogue() {
    let (sheets, issue) = (demo_sheets(), told(issue(Paper::A4, Status::Issued)));
    let document = |letter: &str| format!("{}/../server/demo/rev_{letter}.json", env!("CARGO_MANIFEST_DIR"));
    let [old, new] = ["a", "b"].map(|letter| std::fs::read_to_string(document(letter)).expect("the demo"));
    let told: String = issue.notices.iter().map(|notice| format!("{} ", notice.text)).collect();
    let Issue { design, supplier, contact, recalls, .. } = &issue;
    let recalled = format!("{recalls:?}").replace("\\n", " ");
    let own = format!("{old} {new} {design} {supplier} {contact} {told} {recalled}");
    let own: BTreeSet<&str> = words(&own).flat_map(broken).collect();
    let furniture = Furniture { words: &PSEUDO, ..furniture(&issue).expect("has its lettering") };
    let pages = drawn(&sheets, furniture).expect("renders").0.pages;
    let mut found: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for page in &pages {
        let said = page.drawing.texts().flat_map(|text| words(&text.content)).filter(|word| is_plain(word));
        found.entry(&page.title).or_default().extend(said.filter(|word| !own.contains(word)));
    }
    found.retain(|_, words| !words.is_empty());
    assert!(found.is_empty(), "{found:#?}");
}
