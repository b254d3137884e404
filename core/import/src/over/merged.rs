//! The existing design with moved members where they now are, new ones added, and those that went taken out.

use super::matched::{Match, SAME};
use super::places::Places;
use super::{Comparison, Moved, Placed, let_go, named, same_size, size};
use crate::report::{Code, Notes};
use crate::words::over::{OverFact, Place};
use glam::DVec3;
use matchmark_core::document::other_hand;
use serde_json::{Map, Value, json};
use std::collections::BTreeSet;

/// What is written, as it grows.
struct Merge<'a> {
    imported: &'a Value,
    places: Places,
    sections: Map<String, Value>,
    materials: Map<String, Value>,
    comparison: Comparison,
}

/// The merged document and what changed in it.
pub fn merged(
    existing: &Value,
    imported: &Value,
    old: &[Placed],
    new: &[Placed],
    matches: &[Match],
    notes: &mut Notes,
) -> (Value, Comparison) {
    let is_there: BTreeSet<usize> = matches.iter().map(|one| one.old).collect();
    let gone: Vec<&Placed> = (0..old.len()).filter(|at| !is_there.contains(at)).map(|at| &old[at]).collect();
    let existing = &let_go::without_ends(existing, &gone, notes);
    let object = |name: &str| existing[name].as_object().cloned().unwrap_or_default();
    let mut merge = Merge {
        imported,
        places: Places::of(existing),
        sections: object("sections"),
        materials: object("materials"),
        comparison: Comparison::default(),
    };
    let mut members: Vec<Option<Value>> =
        existing["members"].as_array().map_or_else(Vec::new, |members| members.iter().cloned().map(Some).collect());
    let named = named::references(existing, &BTreeSet::new());
    merge.places.bring_up(existing, (old, new), matches, &named, notes);
    for one in matches {
        let (before, now) = (&old[one.old], &new[one.new]);
        if let Some(Some(member)) = members.get_mut(before.index) {
            merge.update(member, before, now, *one);
        }
    }
    let stays = named::still_referred_to(existing, &gone);
    for placed in gone {
        if stays.iter().any(|other| other.index == placed.index) {
            let fact = OverFact::StillReferredTo { id: &placed.id };
            notes.warning(Code::StillReferredTo, Place::Member { id: &placed.id }.to_string(), fact);
            merge.comparison.still_referred_to.push(placed.id.clone());
        } else if let Some(Value::Object(member)) = members[placed.index].take() {
            named::say_removed(&member, &placed.id, notes);
            merge.comparison.removed.extend(named::ids(placed));
        }
    }
    let mut members: Vec<Value> = members.into_iter().flatten().collect();
    let mut taken: BTreeSet<String> = BTreeSet::new();
    for id in members.iter().filter_map(|member| member["id"].as_str()) {
        taken.extend([Some(id.to_owned()), other_hand(id)].into_iter().flatten());
    }
    let is_old: BTreeSet<usize> = matches.iter().map(|one| one.new).collect();
    for placed in (0..new.len()).filter(|at| !is_old.contains(at)).map(|at| &new[at]) {
        members.push(merge.added(placed, &mut taken));
    }
    let mut document = existing.clone();
    document["points"] = merge.places.into_document();
    document["sections"] = Value::Object(merge.sections);
    document["materials"] = Value::Object(merge.materials);
    document["members"] = Value::Array(members);
    let back: BTreeSet<&String> = merge.comparison.added.iter().collect();
    let removed: Vec<String> = merge.comparison.removed.iter().filter(|id| !back.contains(id)).cloned().collect();
    named::say_mentions(&document, &removed, notes);
    (document, merge.comparison)
}

impl Merge<'_> {
    fn update(&mut self, member: &mut Value, before: &Placed, now_placed: &Placed, one: Match) {
        let points = now(now_placed, one.turned);
        let section = self.section(&now_placed.section, Some(&before.section));
        let radius_changed = match (before.radius, now_placed.radius) {
            (Some(before), Some(now)) => (before - now).abs() > SAME,
            (None, None) => false,
            _ => true,
        };
        if one.off.is_some_and(|off| off <= SAME) && section == before.section && !radius_changed {
            self.comparison.kept.push(before.id.clone());
            return;
        }
        let old_names = references(member);
        let mut names = Vec::new();
        for (index, at) in points.iter().enumerate() {
            let own = old_names.get(index).filter(|_| one.off.is_some());
            let stays = own.is_some_and(|own| self.places.at(own).is_some_and(|there| there.distance(*at) < SAME));
            names.push(match own {
                Some(own) if stays => own.clone(),
                _ => json!(self.places.take(*at)),
            });
        }
        if let Some(member) = member.as_object_mut() {
            for field in ["from", "to", "path", "radius"] {
                member.remove(field);
            }
            if let [from, to] = &names[..] {
                member.insert("from".into(), from.clone());
                member.insert("to".into(), to.clone());
            } else {
                member.insert("path".into(), Value::Array(names));
                if let Some(radius) = now_placed.radius {
                    member.insert("radius".into(), json!(radius));
                }
            }
            member.insert("section".into(), json!(section));
        }
        self.comparison.moved.push(Moved {
            id: before.id.clone(),
            by_mm: one.off.map(|off| (off * 1e3).round() / 1e3),
            section_before: (section != before.section).then(|| before.section.clone()),
        });
    }

    fn added(&mut self, placed: &Placed, taken: &mut BTreeSet<String>) -> Value {
        let mut member = self.imported["members"][placed.index].clone();
        let (stem, hand) = match placed.id.strip_suffix(".L") {
            Some(stem) => (stem, ".L"),
            None => placed.id.strip_suffix(".R").map_or((placed.id.as_str(), ""), |stem| (stem, ".R")),
        };
        let free = |number: usize| if number == 1 { format!("{stem}{hand}") } else { format!("{stem}-{number}{hand}") };
        let both = |id: &str| [Some(id.to_owned()), other_hand(id).filter(|_| placed.mirror)].into_iter().flatten();
        let is_free = |id: &String| both(id).all(|id| !taken.contains(&id));
        let id = (1..).map(free).find(is_free).unwrap_or_default();
        taken.extend(both(&id));
        let names: Vec<String> = placed.points.iter().map(|at| self.places.take(*at)).collect();
        if member.get("path").is_some() {
            member["path"] = json!(names);
        } else {
            member["from"] = json!(names[0]);
            member["to"] = json!(names[names.len() - 1]);
        }
        member["id"] = json!(id);
        member["section"] = json!(self.section(&placed.section, None));
        self.comparison.added.push(id);
        member
    }

    /// The section of the design that has an imported one's size: that before, one of the name, any other, or a new one.
    fn section(&mut self, imported: &str, before: Option<&str>) -> String {
        let wanted = size(self.imported, imported);
        let has_size = |name: &str| {
            self.sections.get(name).is_some_and(|section| same_size([&section["round"], &section["rect"]], wanted))
        };
        let known = before.into_iter().chain([imported]).find(|name| has_size(name)).map(str::to_owned);
        if let Some(known) = known.or_else(|| self.sections.keys().find(|name| has_size(name)).cloned()) {
            return known;
        }
        let free = |number: usize| if number == 1 { imported.to_owned() } else { format!("{imported}-{number}") };
        let name = (1..).map(free).find(|name| !self.sections.contains_key(name)).unwrap_or_default();
        let mut section = self.imported["sections"][imported].clone();
        if let Some(material) = section["material"].as_str().map(str::to_owned)
            && !self.materials.contains_key(&material)
        {
            match self.materials.keys().next().cloned() {
                Some(first) => section["material"] = json!(first),
                None => {
                    self.materials.insert(material.clone(), self.imported["materials"][&material].clone());
                }
            }
        }
        self.sections.insert(name.clone(), section);
        name
    }
}

pub fn now(placed: &Placed, turned: bool) -> Vec<DVec3> {
    let mut points = placed.points.clone();
    if turned {
        points.reverse();
    }
    points
}

pub fn references(member: &Value) -> Vec<Value> {
    match member["path"].as_array() {
        Some(path) => path.clone(),
        None => vec![member["from"].clone(), member["to"].clone()],
    }
}

pub fn coordinates(at: DVec3) -> Value {
    json!(at.to_array().map(crate::write::rounded))
}
