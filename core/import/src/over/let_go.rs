//! Ends that are fitted to members that went: they let go of them, so that a tube that was taken out of a drawing does not stay for
//! the cuts of its neighbours.

use super::{Placed, named};
use crate::report::{Code, Notes};
use crate::words::over::{OverFact, Place};
use serde_json::Value;
use std::collections::BTreeSet;

/// The design with the ends of other members let go of those that went and are held by nothing else; says which.
pub fn without_ends(existing: &Value, gone: &[&Placed], notes: &mut Notes) -> Value {
    let all: BTreeSet<String> = gone.iter().flat_map(|placed| named::ids(placed)).collect();
    let mut freed = existing.clone();
    let_go(&mut freed, &all, &mut |_, _| {});
    let stays: BTreeSet<String> = named::still_referred_to(&freed, gone).into_iter().flat_map(named::ids).collect();
    let went: BTreeSet<String> = all.difference(&stays).cloned().collect();
    let mut freed = existing.clone();
    let_go(&mut freed, &went, &mut |member, end| {
        let number = if end == "from" { 1 } else { 2 };
        let fact = OverFact::EndLetGo { number, member };
        notes.warning(Code::RemovedWith, Place::Member { id: member }.to_string(), fact);
    });
    freed
}

fn let_go(design: &mut Value, went: &BTreeSet<String>, said: &mut dyn FnMut(&str, &str)) {
    let is_of = |value: &Value| value.as_str().is_some_and(|id| went.contains(id));
    for member in design["members"].as_array_mut().into_iter().flatten() {
        let id = member["id"].as_str().unwrap_or_default().to_owned();
        let Some(ends) = member.get_mut("ends").and_then(Value::as_object_mut).filter(|_| !went.contains(&id)) else {
            continue;
        };
        for name in ["from", "to"] {
            let Some(end) = ends.get_mut(name).and_then(Value::as_object_mut) else { continue };
            let mut is_freed = false;
            if let Some(onto) = end.get_mut("cope").and_then(Value::as_array_mut) {
                let before = onto.len();
                onto.retain(|target| !is_of(target));
                is_freed |= onto.len() < before;
                if onto.is_empty() {
                    end.remove("cope");
                }
            }
            if end.get("mitre").is_some_and(|mitre| is_of(&mitre["with"])) {
                end.remove("mitre");
                is_freed = true;
            }
            if end.is_empty() {
                ends.remove(name);
            }
            if is_freed {
                said(&id, name);
            }
        }
        if ends.is_empty()
            && let Some(member) = member.as_object_mut()
        {
            member.remove("ends");
        }
    }
}
