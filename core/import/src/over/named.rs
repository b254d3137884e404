//! What of a design names members that went.

use super::Placed;
use crate::report::{Code, Notes};
use crate::words::over::{OverFact, Place};
use matchmark_core::document::other_hand;
use serde_json::{Map, Value};
use std::collections::BTreeSet;

/// What names itself, or is written for people.
const OWN: [&str; 7] = ["members", "points", "sections", "materials", "name", "description", "notes"];
/// Fields of a member by which it names no other.
const OF_MEMBER: [&str; 6] = ["id", "section", "from", "to", "path", "note"];
/// Fields of a member that files have too.
const IN_FILES: [&str; 8] = ["id", "section", "from", "to", "path", "radius", "roll", "mirror"];
/// Texts for people.
const TEXTS: [&str; 4] = ["note", "notes", "description", "what"];

/// Every text by which something of the design can name a member or a point, but for what these members say.
pub fn references<'a>(document: &'a Value, without: &BTreeSet<usize>) -> BTreeSet<&'a str> {
    let members = document["members"].as_array().into_iter().flatten().enumerate();
    let members = members.filter(|(index, _)| !without.contains(index)).filter_map(|(_, member)| member.as_object());
    let of_members = members.flatten().filter(|(field, _)| !OF_MEMBER.contains(&field.as_str()));
    let others = document.as_object().into_iter().flatten().filter(|(field, _)| !OWN.contains(&field.as_str()));
    let mut todo: Vec<&Value> = of_members.chain(others).map(|(_, value)| value).collect();
    let mut found = BTreeSet::new();
    while let Some(value) = todo.pop() {
        match value {
            Value::String(text) => drop(found.insert(text.as_str())),
            Value::Array(items) => todo.extend(items),
            Value::Object(fields) => {
                // Points that a gauge moves are keys.
                found.extend(fields.keys().map(String::as_str));
                todo.extend(fields.iter().filter(|(field, _)| *field != "id").map(|(_, value)| value));
            }
            _ => {}
        }
    }
    found
}

/// The ids of a member and of its other hand.
pub fn ids(placed: &Placed) -> Vec<String> {
    let other = other_hand(&placed.id).filter(|_| placed.mirror);
    [Some(placed.id.clone()), other].into_iter().flatten().collect()
}

/// Of members that are no longer in the files, those that something refers to which stays.
pub fn still_referred_to<'a>(existing: &Value, gone: &[&'a Placed]) -> Vec<&'a Placed> {
    let mut without: BTreeSet<usize> = gone.iter().map(|placed| placed.index).collect();
    loop {
        let named = references(existing, &without);
        let is_named = |placed: &&&Placed| ids(placed).iter().any(|id| named.contains(id.as_str()));
        let stays: Vec<&Placed> = gone.iter().filter(is_named).copied().collect();
        let before = without.len();
        for placed in &stays {
            without.remove(&placed.index);
        }
        if without.len() == before {
            return stays;
        }
    }
}

/// Says what went with a member that was taken out.
pub fn say_removed(member: &Map<String, Value>, id: &str, notes: &mut Notes) {
    let own: Vec<String> = member
        .iter()
        .filter(|(field, _)| !IN_FILES.contains(&field.as_str()))
        .map(|(field, value)| format!("{field} {value}"))
        .collect();
    if !own.is_empty() {
        let fact = OverFact::RemovedWith { id, fields: &own.join("; ") };
        notes.warning(Code::RemovedWith, Place::Member { id }.to_string(), fact);
    }
}

/// Says where texts for people name members that were taken out.
pub fn say_mentions(document: &Value, removed: &[String], notes: &mut Notes) {
    let removed: BTreeSet<&str> = removed.iter().map(String::as_str).collect();
    let mut todo = vec![(document, String::new(), false)];
    while let Some((value, place, is_text)) = todo.pop() {
        match value {
            Value::String(text) if is_text => {
                let is_part = |letter: char| letter.is_alphanumeric() || "_.-".contains(letter);
                let words = text.split(|letter| !is_part(letter)).map(|word| word.trim_end_matches(['.', '-']));
                for id in words.filter(|word| removed.contains(word)).collect::<BTreeSet<_>>() {
                    let there = Place::Text { pointer: &place };
                    notes.warning(Code::StillNamed, there.to_string(), OverFact::StillNamed { id, text });
                }
            }
            Value::Array(items) => {
                todo.extend(items.iter().enumerate().map(|(at, item)| (item, format!("{place}/{at}"), is_text)));
            }
            Value::Object(fields) => todo.extend(
                fields
                    .iter()
                    .map(|(field, value)| (value, format!("{place}/{field}"), TEXTS.contains(&field.as_str()))),
            ),
            _ => {}
        }
    }
}
