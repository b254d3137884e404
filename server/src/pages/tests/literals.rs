//! No file of the pages, and none of the use cases, holds words: a literal of several words, with a capital letter, with a space at its
//! end or alone in an element is said in a catalogue, or stands here.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::{fs, iter};

/// Not said on a page by us.
const EXCEPTIONS: [(&str, &str); 10] = [
    ("form/submission.rs", "The form belongs to another session. Open its page again and fill it in there."),
    ("form/submission.rs", "Send the form as a browser does."),
    ("form/submission.rs", "The form ended early."),
    ("form/submission.rs", "The form did not come from a page of this service. Open the page here."),
    ("form/fields.rs", "The form cannot be read: {error}."),
    ("house/home.rs", "Matchmark"),
    ("house/home.rs", "type"),
    ("house/style.rs", "text/css; charset=utf-8"),
    ("house/style.rs", "public, max-age=300"),
    ("people/sign_in.rs", "\\\"cache\\\", \\\"storage\\\""),
];

/// Sources of use cases whose words are said to nobody on pages, on paper or in letters.
const NOT_SAID: [&str; 8] = [
    // The catalogues.
    "words/",
    "refusals/list.rs",
    // For the operator, and for what watches over the service.
    "house/inspection/",
    "house/readiness.rs",
    "metrics/",
    // Why a delivery failed, for the supplier; it is kept.
    "send/",
    // Of a supplier of the demo.
    "house/demo.rs",
    // Beginnings of words that a recall may not have.
    "rules/reasons.rs",
];

/// Names as they are kept, and what is looked for or kept and said to nobody.
const KEPT: [(&str, &str); 25] = [
    ("designs/figures.rs", "CARGO_PKG_VERSION"),
    ("designs/saves.rs", "save {number}"),
    ("designs/saves.rs", "revision {letter}"),
    ("designs/saves.rs", "A"),
    ("lib.rs", "HTTPS://"),
    ("notices/deliver.rs", "no mail server is configured now"),
    ("notices/deliver.rs", "the customer was erased"),
    ("notices/deliver.rs", "no webhook is configured now"),
    ("notices/deliver.rs", "id"),
    ("notices/deliver.rs", "class"),
    ("packs/issue.rs", "packs of {serial}"),
    ("packs/issue.rs", "CARGO_PKG_VERSION"),
    ("people/sign_in.rs", "address unknown"),
    ("people/sign_in.rs", "card of {serial}"),
    ("people/tokens.rs", "token"),
    ("rules/outbox.rs", "waiting"),
    ("rules/outbox.rs", "sent"),
    ("rules/outbox.rs", "dead"),
    ("rules/publication.rs", "mandatory"),
    ("rules/publication.rs", "recommended"),
    ("rules/publication.rs", "optional"),
    ("rules/states.rs", "published"),
    ("rules/states.rs", "superseded"),
    ("rules/states.rs", "withdrawn"),
    ("rules/states.rs", "recalled"),
];

fn sources(directory: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(directory).unwrap().map(|entry| entry.unwrap().path());
    entries.flat_map(|path| if path.is_dir() { sources(&path) } else { vec![path] }).collect()
}

/// The literals of a source that are words, without those of its tests, of attributes of markup and of items, in comments, in the log and
/// of faults that are ours.
fn literals(source: &str) -> Vec<&str> {
    let source = source.split("#[cfg(test)]").next().unwrap_or_default();
    let mut in_attribute = false;
    let said = source.lines().filter(|line| {
        let line = line.trim_start();
        in_attribute |= line.starts_with("#[");
        let is_aside = in_attribute
            || line.starts_with("//")
            || ["r##\"", "tracing::", "::Inconsistent("].iter().any(|part| line.contains(part));
        in_attribute &= !line.ends_with(']');
        !is_aside
    });
    said.flat_map(literals_of_line).collect()
}

fn literals_of_line(line: &str) -> Vec<&str> {
    let mut rest = line;
    iter::from_fn(|| {
        let begin = rest.find('"')?;
        let after = &rest[begin + 1..];
        let mut escaped = false;
        let end = after.find(|letter| {
            let is_end = letter == '"' && !escaped;
            escaped = letter == '\\' && !escaped;
            is_end
        })?;
        let (before, literal) = (&rest[..begin], &after[..end]);
        rest = &after[end + 1..];
        Some((before, literal, rest))
    })
    // Neither the value of an attribute nor the pattern of an arm.
    .filter(|(before, _, after)| !before.ends_with('=') && !after.starts_with(" =>"))
    .filter(|(before, literal, _)| are_words(before.trim(), literal))
    .map(|(_, literal, _)| literal)
    .collect()
}

/// Whether a literal is said, by what it holds and by what stands before it.
fn are_words(before: &str, literal: &str) -> bool {
    let is_class = |word: &str| ["state", "tag", "good", "warn", "stop"].contains(&word);
    let spoken: String = literal.replace("\\u{", "{");
    let has_words = spoken.split(' ').filter(|word| word.chars().any(char::is_alphabetic)).count() > 1;
    let begins = spoken.trim_start().chars().next().is_some_and(char::is_uppercase);
    let is_glue = spoken.trim() != spoken && spoken.chars().any(char::is_alphabetic);
    let is_node = before.is_empty() || ["{", "}", "=>"].iter().any(|end| before.ends_with(end));
    let is_word = is_node && !literal.is_empty() && literal.chars().all(char::is_alphabetic);
    (has_words || begins || is_glue || is_word) && !literal.split(' ').all(is_class)
}

/// Finds words in the sources of a folder, but for files that begin with these names and for just these exceptions.
fn hold_no_words(folder: &str, not_said: &[&str], exceptions: &[(&str, &str)]) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let (mut found, mut excepted) = (Vec::new(), BTreeSet::new());
    for path in sources(&folder) {
        let name = path.strip_prefix(&folder).unwrap().to_str().unwrap().to_owned();
        if !name.ends_with(".rs") || not_said.iter().any(|begin| name.starts_with(begin)) {
            continue;
        }
        let source = fs::read_to_string(&path).unwrap();
        for literal in literals(&source) {
            match exceptions.iter().find(|exception| **exception == (name.as_str(), literal)) {
                Some(exception) => drop(excepted.insert(exception)),
                None => found.push(format!("{name}: {literal}")),
            }
        }
    }
    assert!(found.is_empty(), "say it in the catalogue: {found:#?}");
    assert_eq!(excepted, exceptions.iter().collect(), "exceptions that are none");
}

#[test]
fn pages_hold_no_words() {
    // What makes pages of the handbook says its own words in the language of its text.
    hold_no_words("src/pages", &["tests/", "house/handbook/markdown.rs"], &EXCEPTIONS);
}

#[test]
fn use_cases_hold_no_words() {
    hold_no_words("service/src", &NOT_SAID, &KEPT);
}

#[test]
fn words_are_told_from_names() {
    let source = r#"h1 { "Kits" } a href={"/kits/" (x)} { " of " } td class="state warn" { "all of it" } "serial" => "state warn", => "open", p { "word" } ("serial", "a\"b c")"#;
    assert_eq!(literals(source), ["Kits", " of ", "all of it", "open", "word", "a\\\"b c"]);
    let source = "#[schema(example = json!({\n \"Of an attribute\": 1\n}))]\nrefuse(\"Said here\");\ntracing::warn!(\"Not here\");";
    assert_eq!(literals(source), ["Said here"]);
}
