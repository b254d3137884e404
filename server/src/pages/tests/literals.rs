//! No file of the pages holds words: a literal of several words, with a capital letter, with a space at its end or alone
//! in an element is said in the catalogue, or stands here.

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

fn sources(directory: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(directory).unwrap().map(|entry| entry.unwrap().path());
    entries.flat_map(|path| if path.is_dir() { sources(&path) } else { vec![path] }).collect()
}

/// The literals of a source that are words, without those of its tests, of attributes of markup and in comments.
fn literals(source: &str) -> Vec<&str> {
    let source = source.split("#[cfg(test)]").next().unwrap_or_default();
    let lines = source.lines().filter(|line| !line.trim_start().starts_with("//") && !line.contains("r##\""));
    lines.flat_map(literals_of_line).collect()
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

#[test]
fn pages_hold_no_words() {
    let pages = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/pages");
    let (mut found, mut excepted) = (Vec::new(), BTreeSet::new());
    for path in sources(&pages) {
        let name = path.strip_prefix(&pages).unwrap().to_str().unwrap().to_owned();
        // What makes pages of the handbook says its own words in the language of its text.
        if !name.ends_with(".rs") || name.starts_with("tests/") || name == "house/handbook/markdown.rs" {
            continue;
        }
        let source = fs::read_to_string(&path).unwrap();
        for literal in literals(&source) {
            match EXCEPTIONS.iter().find(|exception| **exception == (name.as_str(), literal)) {
                Some(exception) => drop(excepted.insert(exception)),
                None => found.push(format!("{name}: {literal}")),
            }
        }
    }
    assert!(found.is_empty(), "say it in the catalogue: {found:#?}");
    assert_eq!(excepted, EXCEPTIONS.iter().collect(), "exceptions that are none");
}

#[test]
fn words_are_told_from_names() {
    let source = r#"h1 { "Kits" } a href={"/kits/" (x)} { " of " } td class="state warn" { "all of it" } "serial" => "state warn", => "open", p { "word" } ("serial", "a\"b c")"#;
    assert_eq!(literals(source), ["Kits", " of ", "all of it", "open", "word", "a\\\"b c"]);
}
