//! What a page says outside « »: values, what the supplier wrote and sentences of the service, or a literal that bypassed the catalogue.

use serde_json::Value;
use std::collections::BTreeSet;

/// Attributes that people read or hear.
const SAID: [&str; 5] = ["aria-label", "data-is", "title", "placeholder", "alt"];

/// Strings that are data.
#[derive(Default)]
pub struct Data(BTreeSet<String>);

impl Data {
    pub fn add(&mut self, text: &str) {
        self.0.extend(text.lines().map(|line| line.trim().to_owned()));
    }

    /// All that an answer of the API says, and the options of kits; other keys are words of ours.
    pub fn add_all(&mut self, value: &Value) {
        match value {
            Value::String(text) => self.add(text),
            Value::Array(values) => values.iter().for_each(|value| self.add_all(value)),
            Value::Object(fields) => fields.iter().for_each(|(key, value)| {
                if key == "choices" {
                    value.as_object().into_iter().flatten().for_each(|(option, _)| self.add(option));
                }
                self.add_all(value);
            }),
            _ => {}
        }
    }

    /// Whether all of it is data: as a whole, or as a list.
    fn holds(&self, text: &str) -> bool {
        // A figure, or a code of capital letters and digits.
        let is_code =
            |text: &str| text.chars().all(|letter| letter.is_ascii_uppercase() || "0123456789-".contains(letter));
        let is_figure = |text: &str| !text.chars().any(char::is_alphabetic);
        let holds = |text: &str| is_figure(text) || (is_code(text) && text.len() > 1) || self.0.contains(text.trim());
        holds(text)
            || text.lines().all(|line| holds(line) || line.split([',', ':']).all(holds))
            || text.split(' ').all(holds)
    }
}

/// What a page says outside « » that is no data.
pub fn said_outside(page: &str, data: &Data) -> Vec<String> {
    let mut outside = Vec::new();
    let mut depth = 0_usize;
    let mut rest = page;
    while let Some((text, after)) = rest.split_once('<') {
        said(text, &mut depth, &mut outside);
        let (tag, after) = after.split_once('>').unwrap_or((after, ""));
        let mut attributes = tag.split("=\"");
        let mut name = attributes.next().unwrap_or_default().rsplit(' ').next().unwrap_or_default();
        for part in attributes {
            let (value, next) = part.rsplit_once('"').unwrap_or((part, ""));
            if SAID.contains(&name) {
                said(value, &mut 0, &mut outside);
            }
            name = next.trim();
        }
        rest = after;
    }
    assert_eq!(depth, 0, "{page}");
    outside.retain(|text| !data.holds(text));
    outside
}

fn said(text: &str, depth: &mut usize, outside: &mut Vec<String>) {
    let text = text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&");
    let mut piece = String::new();
    for letter in text.chars() {
        match letter {
            '\u{ab}' => *depth += 1,
            '\u{bb}' => *depth = depth.saturating_sub(1),
            _ if *depth == 0 => piece.push(letter),
            _ => {}
        }
    }
    if !piece.trim().is_empty() {
        outside.push(piece.trim().to_owned());
    }
}

#[test]
fn a_literal_is_told_from_words_and_data() {
    let mut data = Data::default();
    data.add_all(&serde_json::json!({ "choices": { "drive": "right" }, "serial": "K-1", "words": "All is well." }));
    let page = "<p>\u{ab}K\u{ef}t <b>K-1</b> of\u{bb} drive: right</p><td data-is=\"\u{ab}x\u{bb}\">All is well.</td><i>2026-11-28</i>";
    assert!(said_outside(page, &data).is_empty());
    let page = "<p aria-label=\"Main\">\u{ab}x\u{bb} of <b>Kit</b> K-1 <i>serial</i></p>";
    assert_eq!(said_outside(page, &data), ["Main", "of", "Kit", "serial"]);
}
