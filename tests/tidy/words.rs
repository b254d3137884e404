//! Words stand in a catalogue: no file beside it holds any. Of the server a literal of several words, with a capital letter, with a space
//! at its end or alone in an element is said in a catalogue, or stands here; of core, one of several words.

use crate::sources::all;
use matchmark_core::words::{TemplateSpan, pieces};
use std::collections::BTreeSet;
use std::iter;

/// Not said on a page by us.
const OF_PAGES: [(&str, &str); 3] = [
    ("house/home.rs", "Matchmark"),
    ("house/home.rs", "type"),
    ("people/sign_in.rs", "\\\"cache\\\", \\\"storage\\\""),
];

/// Of HTTP, and what programs read.
const OF_HTTP: [(&str, &str); 16] = [
    ("strict_json.rs", "unknown field "),
    ("strict_json.rs", "one of "),
    ("strict_json.rs", "missing field "),
    // Between two quotes that are letters.
    ("conditions.rs", "').and_then(|rest| rest.strip_suffix('"),
    ("compression.rs", "').and_then(|tag| tag.strip_suffix('"),
    ("session.rs", "matchmark"),
    ("strict_json.rs", "null"),
    ("strict_json.rs", " at line "),
    ("strict_json.rs", ", expected "),
    ("strict_json.rs", "a JSON value"),
    ("strict_json.rs", "a sequence"),
    ("strict_json.rs", "enum "),
    ("strict_json.rs", "expected value at line"),
    ("strict_json.rs", "invalid type: "),
    ("strict_json.rs", "point "),
    ("strict_json.rs", "struct "),
];

/// Of answers to programs.
const OF_API: [(&str, &str); 7] = [
    ("designs/stock_progress.rs", "code"),
    ("designs/stock_progress.rs", "event: {name}\\ndata: {}\\n\\n"),
    ("house/health.rs", "CARGO_PKG_VERSION"),
    ("packs/job_events.rs", "retry: 2000\\n\\n"),
    ("packs/job_events.rs", "id: {after}\\nevent: kit\\ndata: {data}\\n\\n"),
    ("packs/job_events.rs", "event: end\\ndata: {data}\\n\\n"),
    ("packs/job_events.rs", ": still at work\\n\\n"),
];

/// Folders and files of core whose words are in a language of machines, or of its own.
const CORE_NOT_SAID: [&str; 6] = [
    // The catalogue.
    "words/",
    // Titles of packs from before there were keys.
    "pack/titles_before_keys.rs",
    // Languages of files: PDF and SVG, exchange files of solids, what is signed. What fails in writing them is a fault of ours.
    "render/",
    "solid/header.rs",
    "seal/sealed/account.rs",
    "seal/symbol.rs",
];

/// What is said to nobody, or is a fact that happens to be written in words.
const OF_CORE: [(&str, &str); 13] = [
    // Of the schema, whose other descriptions are those of the fields.
    ("document/read.rs", "Address of this schema, for editors; it says nothing of the design."),
    // What is signed, and tables of PDF.
    ("seal/sealed/page.rs", "boxes {} turn {} unit {}"),
    ("seal/signing.rs", "matchmark page statement 1\\0"),
    ("seal/signing.rs", "matchmark file 1\\0"),
    ("seal/status.rs", "matchmark design status 1\\0"),
    ("seal/strict/sections.rs", " n \\n"),
    ("seal/strict/sections.rs", " n \\r"),
    ("seal/strict/sections.rs", " f \\n"),
    ("seal/strict/sections.rs", " f \\r"),
    ("document/json.rs", "a JSON value"),
    ("frame/mod.rs", "cope and mitre"),
    ("joint/wrap.rs", "Single joint"),
    ("pack/layout/figures.rs", "{} sq ft"),
];

/// Of files for machines: their own markup.
const OF_EXPORT: [(&str, &str); 8] = [
    ("csv.rs", "', ',', '\\r', '\\n']) { format!("),
    ("flat_dxf.rs", "Solid line"),
    ("flat_svg.rs", "none\\\" stroke-width=\\\"0.1\\\">\\n<title>{}</title>\\n"),
    ("flat_svg.rs", "fill=\\\"#080\\\" font-family=\\\"sans-serif\\\""),
    ("flat_svg.rs", "<g id=\\\"{}\\\" {ink}>"),
    ("flat_svg.rs", "<path id=\\\"{}\\\" d=\\\"{}\\\"/>"),
    ("flat_svg.rs", "<circle id=\\\"{}\\\" cx=\\\"{x}\\\" cy=\\\"{y}\\\" r=\\\"{radius}\\\"/>"),
    ("flat_svg.rs", "<text id=\\\"{}\\\" x=\\\"{x}\\\" y=\\\"{y}\\\" font-size=\\\"{size}\\\">{}</text>"),
];

/// Sources of use cases whose words are said to nobody on pages, on paper or in letters.
const NOT_SAID: [&str; 6] = [
    // The catalogues.
    "words/",
    "refusals/list.rs",
    // For the operator, and for what watches over the service.
    "house/inspection/",
    "metrics/",
    // Of a supplier of the demo.
    "house/demo.rs",
    // Beginnings of words that a recall may not have.
    "rules/reasons.rs",
];

/// Names as they are kept, and what is looked for or kept and said to nobody.
const KEPT: [(&str, &str); 23] = [
    ("designs/figures.rs", "CARGO_PKG_VERSION"),
    ("designs/saves.rs", "A"),
    ("lib.rs", "HTTPS://"),
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
    ("refusals/mod.rs", "the slots of "),
    ("send/mail.rs", "Mail"),
    ("send/mail.rs", "the sender is not a mail address"),
    ("send/webhook.rs", "CARGO_PKG_VERSION"),
    ("send/webhook.rs", "Webhook"),
    ("rules/states.rs", "published"),
    ("rules/states.rs", "superseded"),
    ("rules/states.rs", "withdrawn"),
    ("rules/states.rs", "recalled"),
];

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

/// Whether a literal is the value of a header.
fn is_header(literal: &str) -> bool {
    ["charset=", "filename=", "default-src", "no-cache", "max-age=", "camera=()", "realm=", "rel=", "Max-Age=", "W/"]
        .iter()
        .any(|part| literal.contains(part))
}

/// Whether a literal has two words beside its slots.
fn has_several_words(literal: &str) -> bool {
    let beside: String = pieces(literal)
        .map(|piece| match piece {
            TemplateSpan::Text(text) => text,
            TemplateSpan::Slot(_) => "",
        })
        .collect();
    beside.split(' ').filter(|word| word.chars().any(char::is_alphabetic)).count() > 1
}

/// Whether a literal is said, by what it holds and by what stands before it.
fn are_words(before: &str, literal: &str) -> bool {
    let is_class = |word: &str| ["state", "tag", "good", "warn", "stop"].contains(&word);
    let spoken: String = literal.replace("\\u{", "{");
    let has_words = has_several_words(&spoken);
    let begins = spoken.trim_start().chars().next().is_some_and(char::is_uppercase);
    let is_glue = spoken.trim() != spoken && spoken.chars().any(char::is_alphabetic);
    let is_node = before.is_empty() || ["{", "}", "=>"].iter().any(|end| before.ends_with(end));
    let is_word = is_node && !literal.is_empty() && literal.chars().all(char::is_alphabetic);
    (has_words || begins || is_glue || is_word) && !literal.split(' ').all(is_class)
}

/// Finds words in the sources of a folder, but for files that begin with these names and for just these exceptions.
fn hold_no_words(folder: &str, not_said: &[&str], exceptions: &[(&str, &str)]) {
    let (mut found, mut excepted) = (Vec::new(), BTreeSet::new());
    for source in all(folder) {
        let name = &source.path[folder.len() + 1..];
        let is_test = ["tests/", "tests.rs", "fixture/"].iter().any(|part| name.contains(part));
        if is_test || not_said.iter().any(|begin| name.starts_with(begin)) {
            continue;
        }
        for literal in literals(&source.text).into_iter().filter(|literal| !is_header(literal)) {
            if folder.starts_with("core/") && !has_several_words(literal) {
                continue;
            }
            match exceptions.iter().find(|exception| **exception == (name, literal)) {
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
    hold_no_words("server/src/pages", &["house/handbook/markdown.rs"], &OF_PAGES);
}

#[test]
fn requests_are_read_without_words() {
    hold_no_words("server/src/http", &[], &OF_HTTP);
}

#[test]
fn handlers_hold_no_words() {
    // Pages of the description of the API, which is English.
    hold_no_words("server/src/api", &["house/openapi/", "house/schemas.rs"], &OF_API);
}

#[test]
fn use_cases_hold_no_words() {
    hold_no_words("server/service/src", &NOT_SAID, &KEPT);
}

#[test]
fn core_holds_no_words() {
    hold_no_words("core/src", &CORE_NOT_SAID, &OF_CORE);
}

#[test]
fn imports_hold_no_words() {
    // Columns are known by words of people.
    let not_said = ["words/", "read/table/meaning.rs"];
    hold_no_words("core/import/src", &not_said, &[("read/dxf/pairs.rs", " Binary DXF\\r\\n\\x1a\\0")]);
}

#[test]
fn files_for_machines_hold_no_words_of_their_own() {
    hold_no_words("core/export/src", &["words.rs"], &OF_EXPORT);
}

/// The variants of an error of core stand in the catalogue with what is said of them.
#[test]
fn errors_of_core_say_what_the_catalogue_says() {
    // Said to nobody: whoever stops a computation has gone.
    let aside = ["core/src/stop.rs"];
    let sources = all("core/src").into_iter();
    let sources =
        sources.filter(|source| !source.path.starts_with("core/src/words/") && !aside.contains(&&*source.path));
    for source in sources {
        let said = source.text.split("#[error(").skip(1).filter_map(|rest| rest.split('"').nth(1));
        let found: Vec<&str> = said.filter(|template| has_several_words(template)).collect();
        assert!(found.is_empty(), "{}: say it in core/src/words/findings: {found:#?}", source.path);
    }
}

#[test]
fn words_are_told_from_names() {
    let source = r#"h1 { "Kits" } a href={"/kits/" (x)} { " of " } td class="state warn" { "all of it" } "serial" => "state warn", => "open", p { "word" } ("serial", "a\"b c")"#;
    assert_eq!(literals(source), ["Kits", " of ", "all of it", "open", "word", "a\\\"b c"]);
    let source = "#[schema(example = json!({\n \"Of an attribute\": 1\n}))]\nrefuse(\"Said here\");\ntracing::warn!(\"Not here\");";
    assert_eq!(literals(source), ["Said here"]);
}
