//! What is said of spoiled documents and requests is of this catalogue, and in its slots stand facts, not words from elsewhere.

use crate::document::{read, schema};
use crate::joint::solve_all;
use crate::stock::Request;
use crate::words::{TemplateSpan, pieces};
use serde_json::{Value, json};
use std::collections::BTreeSet;

const CATALOGUE: [&str; 4] =
    [include_str!("document.rs"), include_str!("joint.rs"), include_str!("stock.rs"), include_str!("values.rs")];

/// All templates of the catalogue that say something, with their slots as `{}`.
fn templates() -> Vec<String> {
    let mut templates = Vec::new();
    for source in CATALOGUE {
        for part in source.split("#[error(").skip(1) {
            let (_, rest) = part.split_once('"').unwrap();
            let end = rest.replace("\\\"", "''").find('"').unwrap();
            let text = rest[..end].replace("\\\"", "\"").replace("{{", "\u{1}").replace("}}", "\u{2}");
            let bare: String = pieces(&text)
                .map(|piece| match piece {
                    TemplateSpan::Text(text) => text.replace('\u{1}', "\u{3}").replace('\u{2}', "}"),
                    TemplateSpan::Slot(_) => "{}".to_owned(),
                })
                .collect();
            templates.push(bare);
        }
    }
    templates.retain(|template| template.replace("{}", "").chars().any(char::is_alphabetic));
    assert!(templates.len() > 100, "{templates:#?}");
    templates
}

/// What a sentence has in the slots of a template; `None` when it is not made of it.
fn slots<'a>(sentence: &'a str, template: &str) -> Option<Vec<&'a str>> {
    let texts: Vec<String> = template.split("{}").map(|text| text.replace('\u{3}', "{")).collect();
    let (first, rest) = texts.split_first()?;
    let mut left = sentence.strip_prefix(first.as_str())?;
    let mut slots = Vec::new();
    for (index, text) in rest.iter().enumerate() {
        let is_last = index + 1 == rest.len();
        let at = if is_last { left.strip_suffix(text.as_str())?.len() } else { left.find(text.as_str())? };
        slots.push(&left[..at]);
        left = &left[at + text.len()..];
    }
    left.is_empty().then_some(slots)
}

/// Whether a text is of the catalogue, or holds no word but data.
fn is_known(text: &str, templates: &[String], data: &BTreeSet<String>) -> bool {
    let is_plain = |word: &&str| word.len() > 2 && word.contains(|letter| "aeiouyAEIOUY".contains(letter));
    let mut words = text.split(|letter: char| !letter.is_alphanumeric()).filter(is_plain);
    words.all(|word| data.contains(word))
        || templates.iter().any(|template| {
            slots(text, template).is_some_and(|slots| slots.iter().all(|slot| is_known(slot, templates, data)))
        })
}

/// The words of a JSON value: names, and texts.
fn add_words(value: &Value, words: &mut BTreeSet<String>) {
    let text = value.to_string();
    words.extend(text.split(|letter: char| !letter.is_alphanumeric()).map(str::to_owned));
}

/// The same value with each of its places in turn replaced.
fn spoiled(whole: &Value) -> Vec<Value> {
    let wrong = [json!(null), json!(true), json!(-7), json!("no such"), json!([]), json!({"zz": 1})];
    let mut places = vec![String::new()];
    let mut next = 0;
    while let Some(place) = places.get(next).cloned() {
        next += 1;
        match whole.pointer(&place) {
            Some(Value::Object(fields)) => places.extend(fields.keys().map(|key| format!("{place}/{key}"))),
            Some(Value::Array(items)) => places.extend((0..items.len()).map(|index| format!("{place}/{index}"))),
            _ => {}
        }
    }
    let mut all = Vec::new();
    for place in places {
        for value in &wrong {
            let mut spoiled = whole.clone();
            *spoiled.pointer_mut(&place).unwrap() = value.clone();
            all.push(spoiled);
        }
    }
    all
}

#[test]
fn what_is_said_of_spoiled_input_is_of_the_catalogue_with_facts_in_its_slots() {
    let document = include_str!("../../../../server/demo/rev_a.json");
    let mut document: Value = serde_json::from_str(document).unwrap();
    for list in ["members", "steps"] {
        document[list].as_array_mut().unwrap().truncate(3);
    }
    for map in ["points", "checks", "holes", "plates"] {
        if let Some(fields) = document.get_mut(map).and_then(Value::as_object_mut) {
            let kept = fields.iter().take(3).map(|(name, value)| (name.clone(), value.clone())).collect();
            *fields = kept;
        }
    }
    let stock = json!({
        "kerf": 2, "trim": 10, "stock": [{"length": 6000, "price": 3}, {"length": 3000, "price": 2, "count": 4}],
        "parts": [{"id": "one", "length": 900, "count": 3}, {"id": "two", "length": 400, "count": 2}],
    });
    let mut said = BTreeSet::new();
    for spoiled in spoiled(&document) {
        said.extend(read(&spoiled.to_string()).findings.into_sorted().into_iter().map(|finding| finding.message));
    }
    for spoiled in spoiled(&stock) {
        let text = spoiled.to_string();
        let Ok(request) = Request::read(&text) else { continue };
        said.extend(crate::stock::solve(&request, &mut |_| true).err().map(|error| error.to_string()));
    }
    said.extend(solve_all(r#"{"cases": []}"#).err().map(|error| error.to_string()));
    assert!(said.len() > 60, "{said:#?}");
    let mut data: BTreeSet<String> = ["such", "JSON"].into_iter().map(str::to_owned).collect();
    [document, stock, schema()].iter().for_each(|value| add_words_of_names(value, &mut data));
    let templates = templates();
    let strange: Vec<&String> = said.iter().filter(|said| !is_known(said, &templates, &data)).collect();
    assert!(strange.is_empty(), "say it in the catalogue: {strange:#?}");
    assert!(!is_known("Here stands a number; write some digits.", &templates, &data));
}

/// Names and texts of a value, without descriptions, which are sentences.
fn add_words_of_names(value: &Value, words: &mut BTreeSet<String>) {
    match value {
        Value::Object(fields) => {
            for (name, value) in fields.iter().filter(|(name, value)| *name != "description" || !value.is_string()) {
                add_words(&json!(name), words);
                add_words_of_names(value, words);
            }
        }
        Value::Array(items) => items.iter().for_each(|item| add_words_of_names(item, words)),
        Value::String(text) if text.contains(' ') => {}
        other => add_words(other, words),
    }
}
