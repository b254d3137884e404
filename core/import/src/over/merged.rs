//! The existing design with moved members where they now are, new ones added, and those that went taken out.

use super::matched::{Match, SAME};
use super::{Comparison, Moved, Placed, place, same_size, size};
use crate::report::{Code, Notes};
use glam::DVec3;
use serde_json::{Map, Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// What is written, as it grows.
struct Merge<'a> {
    existing: &'a Value,
    imported: &'a Value,
    points: Map<String, Value>,
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
    let object = |name: &str| existing[name].as_object().cloned().unwrap_or_default();
    let mut merge = Merge {
        existing,
        imported,
        points: object("points"),
        sections: object("sections"),
        materials: object("materials"),
        comparison: Comparison::default(),
    };
    let mut members: Vec<Option<Value>> =
        existing["members"].as_array().map_or_else(Vec::new, |members| members.iter().cloned().map(Some).collect());
    merge.move_points(old, new, matches);
    for one in matches {
        let (before, now) = (&old[one.old], &new[one.new]);
        if let Some(Some(member)) = members.get_mut(before.index) {
            merge.update(member, before, now, *one);
        }
    }
    let gone: Vec<&Placed> =
        (0..old.len()).filter(|at| !matches.iter().any(|one| one.old == *at)).map(|at| &old[at]).collect();
    let referred_to = references_in(existing);
    for placed in gone {
        let other = matchmark_core::document::other_hand(&placed.id).filter(|_| placed.mirror);
        if referred_to.contains(placed.id.as_str()) || other.is_some_and(|other| referred_to.contains(other.as_str())) {
            let message = format!(
                "The member `{}` is not in the files any more, but other parts of the design refer to it, so it stays. Remove those, then the member.",
                placed.id
            );
            notes.warning(Code::StillReferredTo, format!("existing design, member {}", placed.id), message);
            merge.comparison.still_referred_to.push(placed.id.clone());
        } else {
            members[placed.index] = None;
            merge.comparison.removed.push(placed.id.clone());
        }
    }
    let mut members: Vec<Value> = members.into_iter().flatten().collect();
    for (at, placed) in new.iter().enumerate() {
        if !matches.iter().any(|one| one.new == at) {
            let taken: BTreeSet<&str> = members.iter().filter_map(|member| member["id"].as_str()).collect();
            let member = merge.added(placed, &taken);
            members.push(member);
        }
    }
    let mut document = existing.clone();
    document["points"] = Value::Object(merge.points);
    document["sections"] = Value::Object(merge.sections);
    document["materials"] = Value::Object(merge.materials);
    document["members"] = Value::Array(members);
    (document, merge.comparison)
}

/// Every text by which something of the design can name a member: all but ids, and what has names of its own.
fn references_in(document: &Value) -> BTreeSet<&str> {
    let mut todo: Vec<&Value> = Vec::new();
    let own = ["members", "points", "sections", "materials", "name", "description", "notes"];
    let of_member = ["id", "section", "from", "to", "path", "note"];
    for member in document["members"].as_array().into_iter().flatten().filter_map(Value::as_object) {
        todo.extend(member.iter().filter(|(field, _)| !of_member.contains(&field.as_str())).map(|(_, value)| value));
    }
    for (_, value) in document.as_object().into_iter().flatten().filter(|(field, _)| !own.contains(&field.as_str())) {
        todo.push(value);
    }
    let mut found = BTreeSet::new();
    while let Some(value) = todo.pop() {
        match value {
            Value::String(text) => {
                found.insert(text.as_str());
            }
            Value::Array(items) => todo.extend(items),
            Value::Object(fields) => {
                todo.extend(fields.iter().filter(|(field, _)| *field != "id").map(|(_, value)| value))
            }
            _ => {}
        }
    }
    found
}

impl Merge<'_> {
    /// Moves named points that all their members agree about. Where they do not, the members get points of their own.
    fn move_points(&mut self, old: &[Placed], new: &[Placed], matches: &[Match]) {
        let mut wanted: BTreeMap<String, Vec<DVec3>> = BTreeMap::new();
        for one in matches {
            let now = now(&new[one.new], one.turned);
            let names = references(&self.existing["members"][old[one.old].index]);
            for (name, place) in names.iter().filter_map(Value::as_str).zip(now).filter(|_| one.off.is_some()) {
                let is_other_hand = !self.points.contains_key(name);
                let own =
                    if is_other_hand { matchmark_core::document::other_hand(name) } else { Some(name.to_owned()) };
                let Some(own) = own else { continue };
                let place = if is_other_hand { DVec3::new(place.x, -place.y, place.z) } else { place };
                wanted.entry(own).or_default().push(place);
            }
        }
        for (name, places) in wanted {
            let agreed = places.iter().all(|place| place.distance(places[0]) < SAME);
            let before = place(&json!(name), Some(&self.points));
            if agreed && before.is_some_and(|before| before.distance(places[0]) > 1e-4) {
                self.points.insert(name, coordinates(places[0]));
            }
        }
    }

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
            let stays =
                own.is_some_and(|own| place(own, Some(&self.points)).is_some_and(|there| there.distance(*at) < SAME));
            names.push(match own {
                Some(own) if stays => own.clone(),
                _ => json!(self.point(*at)),
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

    fn added(&mut self, placed: &Placed, taken: &BTreeSet<&str>) -> Value {
        let mut member = self.imported["members"][placed.index].clone();
        let (stem, hand) = match placed.id.strip_suffix(".L") {
            Some(stem) => (stem, ".L"),
            None => (placed.id.as_str(), ""),
        };
        let free = |number: usize| if number == 1 { format!("{stem}{hand}") } else { format!("{stem}-{number}{hand}") };
        let is_taken = |id: &str| {
            let other = matchmark_core::document::other_hand(id);
            taken.contains(id) || other.is_some_and(|other| taken.contains(other.as_str()))
        };
        let id = (1..).map(free).find(|id| !is_taken(id)).unwrap_or_default();
        let names: Vec<String> = placed.points.iter().map(|at| self.point(*at)).collect();
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

    /// A point at a place: one of the design, or a new one.
    fn point(&mut self, at: DVec3) -> String {
        let here = |name: &str| place(&json!(name), Some(&self.points)).is_some_and(|there| there.distance(at) < 1e-3);
        let known = self.points.keys().find_map(|name| {
            let other = matchmark_core::document::other_hand(name);
            if here(name) { Some(name.clone()) } else { other.filter(|other| here(other)) }
        });
        known.unwrap_or_else(|| {
            let name = (1..)
                .map(|number| format!("i{number}"))
                .find(|name| !self.points.contains_key(name))
                .unwrap_or_default();
            self.points.insert(name.clone(), coordinates(at));
            name
        })
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

fn now(placed: &Placed, turned: bool) -> Vec<DVec3> {
    let mut points = placed.points.clone();
    if turned {
        points.reverse();
    }
    points
}

fn references(member: &Value) -> Vec<Value> {
    match member["path"].as_array() {
        Some(path) => path.clone(),
        None => vec![member["from"].clone(), member["to"].clone()],
    }
}

fn coordinates(at: DVec3) -> Value {
    json!(at.to_array().map(crate::write::rounded))
}
