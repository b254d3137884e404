//! A pack in inches speaks of inches: millimetres stand in it only where the supplier wrote them.

use super::delta;
use super::{demo_revisions, document, measured_sheets, told};
use crate::pack::fixture::issue;
use crate::pack::*;
use crate::render::Page;
use serde_json::Value;

/// All that the supplier wrote, each text in words with one space between them.
fn written() -> Vec<String> {
    fn texts(value: &Value, found: &mut Vec<String>) {
        match value {
            Value::String(text) => found.push(text.split_whitespace().collect::<Vec<_>>().join(" ")),
            Value::Array(values) => values.iter().for_each(|value| texts(value, found)),
            Value::Object(values) => values.values().for_each(|value| texts(value, found)),
            _ => {}
        }
    }
    let mut found = Vec::new();
    for letter in ["a", "b"] {
        let path = format!("{}/../server/demo/rev_{letter}.json", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(path).expect("the demo");
        texts(&serde_json::from_str(&text).expect("JSON"), &mut found);
    }
    found.retain(|text| text.contains(" mm"));
    found.sort_by_key(|text| std::cmp::Reverse(text.len()));
    found
}

#[test]
fn no_millimetre_of_the_engines_own_stands_in_a_pack_in_inches() {
    let written = written();
    assert!(written.len() > 3, "{written:?}");
    let ([old, new], changes) = demo_revisions();
    let long =
        super::revised(&[("\"rear_tip.L\":        [-1270, 307.25, 25]", "\"rear_tip.L\":        [-1275, 306.25, 25]")]);
    for units in [Units::Inch, Units::InchFraction] {
        let mut whole = told(issue(Paper::Letter, Status::Issued));
        whole.kit_facts = vec![KitFact::Measured { gauge: "hoop_spread".to_owned(), value: 1124.0 }];
        let mut only = delta::issue_of(changes.clone(), delta::pages_before(&old, Paper::Letter), Paper::Letter);
        let mut rail = delta::issue_of(long.1.clone(), delta::pages_before(&long.0[0], Paper::Letter), Paper::Letter);
        for issue in [&mut whole, &mut only, &mut rail] {
            issue.print.units = units;
        }
        let packs = [
            document(&new, &whole).expect("renders").0,
            document(&measured_sheets(), &whole).expect("renders").0,
            delta::drawn(&new, &only),
            delta::drawn(&long.0[1], &rail),
        ];
        for Page { title, drawing, .. } in packs.iter().flat_map(|pack| &pack.pages) {
            let texts = drawing.texts().map(|text| text.content.as_str());
            let mut said = texts.collect::<Vec<_>>().join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
            for text in written.iter().map(String::as_str).chain(["The harness bar sits 12 mm too wide."]) {
                said = said.replace(text, "");
            }
            let millimetres: Vec<usize> = said
                .match_indices("mm")
                .filter(|(at, _)| {
                    let is_letter = |text: Option<char>| text.is_some_and(char::is_alphabetic);
                    !is_letter(said[..*at].chars().next_back()) && !is_letter(said[at + 2..].chars().next())
                })
                .map(|(at, _)| at)
                .collect();
            let around: Vec<&str> = millimetres
                .iter()
                .map(|&at| said.get(at.saturating_sub(60)..(at + 20).min(said.len())).unwrap_or_default())
                .collect();
            assert!(around.is_empty(), "{title}: {around:?}");
        }
    }
}
