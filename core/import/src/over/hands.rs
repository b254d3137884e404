//! Pairs of which one hand has changed: both hands are written as members of their own, so that nothing said of either is lost.

use super::matched::{self, Told};
use super::{Placed, place, same_size, size};
use crate::report::{Code, Notes};
use crate::words::over::{OverFact, Place};
use glam::DVec3;
use matchmark_core::document::other_hand;
use serde_json::{Map, Value, json};
use std::collections::BTreeSet;

/// Fields that only one of two members can have.
const OF_ONE: [&str; 2] = ["mirror", "part"];

/// Members of a design, the numbers of those without a match, and the design.
pub type Side<'a> = (&'a [Placed], &'a BTreeSet<usize>, &'a Value);

/// Numbers of pairs without a match of which single members of the other side without a match are a hand.
pub fn apart(
    (pairs, free, document): Side<'_>,
    (singles, single_free, other_document): Side<'_>,
    told: &Told,
) -> Vec<usize> {
    let singles: Vec<&Placed> =
        single_free.iter().map(|index| &singles[*index]).filter(|single| !single.mirror).collect();
    let is_one_of = |half: &Placed| {
        singles.iter().any(|single| {
            (told.contains(&single.id.to_lowercase()) && single.id == half.id)
                || (same_size(size(document, &half.section), size(other_document, &single.section))
                    && matched::is_near(half, single))
        })
    };
    let both = free.iter().map(|index| (*index, &pairs[*index])).filter(|(_, pair)| pair.mirror);
    both.filter(|(_, pair)| halves(pair).iter().any(is_one_of)).map(|(index, _)| index).collect()
}

/// Both hands of a pair.
fn halves(pair: &Placed) -> [Placed; 2] {
    let first = Placed { mirror: false, ..pair.clone() };
    let points = pair.points.iter().map(|at| DVec3::new(at.x, -at.y, at.z)).collect();
    let second = Placed { id: other_hand(&pair.id).unwrap_or_else(|| pair.id.clone()), points, ..first.clone() };
    [first, second]
}

/// Writes both hands of these pairs as members of their own.
pub fn write_apart(document: &mut Value, pairs: &[&Placed]) {
    let names: BTreeSet<String> = names(document);
    let points = document["points"].as_object().cloned().unwrap_or_default();
    let Some(members) = document["members"].as_array_mut() else { return };
    let mut all = Vec::new();
    for (index, mut member) in core::mem::take(members).into_iter().enumerate() {
        let second = pairs.iter().any(|pair| pair.index == index).then(|| other(&member, &points, &names));
        if let (Some(_), Some(fields)) = (&second, member.as_object_mut()) {
            fields.remove("mirror");
        }
        all.push(member);
        all.extend(second);
    }
    *members = all;
}

/// Says of existing pairs that their hands are two members now.
pub fn say(pairs: &[&Placed], notes: &mut Notes) {
    for pair in pairs {
        let other = other_hand(&pair.id).unwrap_or_default();
        let fact = OverFact::HandsApart { id: &pair.id, other: &other };
        notes.warning(Code::HandsApart, Place::Member { id: &pair.id }.to_string(), fact);
    }
}

/// The opposite hand as a member of its own, as the core would place it.
fn other(member: &Value, points: &Map<String, Value>, names: &BTreeSet<String>) -> Value {
    let mut second = member.as_object().cloned().unwrap_or_default();
    second.retain(|field, _| !OF_ONE.contains(&field.as_str()));
    let reference = |own: &Value| {
        let at = place(own, Some(points)).unwrap_or_default();
        match own.as_str() {
            Some(name) if other_hand(name).is_some() => json!(other_hand(name)),
            Some(_) if at.y == 0.0 => own.clone(),
            _ => json!([at.x, -at.y, at.z]),
        }
    };
    for (field, value) in &mut second {
        match field.as_str() {
            "id" => *value = json!(value.as_str().and_then(other_hand)),
            "from" | "to" => *value = reference(value),
            "path" => *value = value.as_array().into_iter().flatten().map(reference).collect(),
            "roll" => *value = json!(value.as_f64().map(|roll| -roll)),
            "ends" | "leave_long" => swap(value, names),
            _ => {}
        }
    }
    Value::Object(second)
}

/// Puts the other hand of each name where there is one, and turns over what is told as a direction, a place or a clock angle.
fn swap(value: &mut Value, names: &BTreeSet<String>) {
    match value {
        Value::String(name) => {
            if let Some(other) = other_hand(name).filter(|other| names.contains(other)) {
                *name = other;
            }
        }
        Value::Array(items) => match &mut items[..] {
            [x, y, z] if x.is_number() && z.is_number() => *y = json!(y.as_f64().map(|across| -across)),
            _ => items.iter_mut().for_each(|item| swap(item, names)),
        },
        Value::Object(fields) => {
            for (field, value) in fields {
                match value.as_f64().filter(|_| field == "clock") {
                    Some(clock) => *value = json!(-clock),
                    None => swap(value, names),
                }
            }
        }
        _ => {}
    }
}

/// Names of members, plates and points, with the hands that they have beside.
fn names(document: &Value) -> BTreeSet<String> {
    let keys = |list: &str| document[list].as_object().into_iter().flat_map(|list| list.keys().cloned());
    let members = document["members"].as_array().into_iter().flatten();
    let own = members.filter_map(|member| Some((member["id"].as_str()?.to_owned(), member["mirror"] == true)));
    let mirrored = |name: String, both: bool| [other_hand(&name).filter(|_| both), Some(name)].into_iter().flatten();
    let plates = keys("plates").map(|name| {
        let both = document["plates"][&name]["mirror"] == true;
        (name, both)
    });
    own.chain(plates)
        .chain(keys("points").map(|name| (name, true)))
        .flat_map(|(name, both)| mirrored(name, both))
        .collect()
}
