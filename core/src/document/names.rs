//! Refers every name in a document to what it names.

use super::design::{EndCut, Member, Mitre, PointRef, Section};
use super::field::Field;
use super::finding::{Finding, Findings};
use super::place::Place;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// The name of the opposite hand: `.L` for `.R` and the other way round; `None` for a name without hand.
#[must_use]
pub(crate) fn other_hand(name: &str) -> Option<String> {
    match name.strip_suffix(".L") {
        Some(stem) => Some(format!("{stem}.R")),
        None => name.strip_suffix(".R").map(|stem| format!("{stem}.L")),
    }
}

/// Adds a finding for every name that names nothing, and for members that cannot be fitted to what they name.
///
/// Works on the parsed text, so that what cannot be read in one place does not hide what is wrong in another.
pub(super) fn refer(document: &Value, findings: &mut Findings) {
    let known = Known {
        materials: keys(document, "materials"),
        sections: keys(document, "sections"),
        points: keys(document, "points")
            .into_iter()
            .flat_map(|name| [other_hand(&name), Some(name)])
            .flatten()
            .collect(),
        members: members_by_id(document, findings),
    };
    for (name, section) in document["sections"].as_object().into_iter().flatten() {
        if let Some(section) = readable::<Section>(section) {
            refer_section(name, &section, &known, findings);
        }
    }
    for (index, member) in readable_members(document) {
        Referrer { member: &member, index, known: &known, findings }.refer();
    }
}

/// Members that can be read, with their places in the list.
pub(super) fn readable_members(document: &Value) -> impl Iterator<Item = (usize, Member)> + '_ {
    let members = document["members"].as_array().into_iter().flatten().enumerate();
    members.filter_map(|(index, member)| readable(member).map(|member| (index, member)))
}

fn readable<T: Field>(value: &Value) -> Option<T> {
    T::read(value, &Place::Root, &mut Findings::default())
}

fn keys(document: &Value, name: &str) -> BTreeSet<String> {
    document[name].as_object().into_iter().flatten().map(|(name, _)| name.clone()).collect()
}

fn refer_section(name: &str, section: &Section, known: &Known, findings: &mut Findings) {
    let material = section.material.as_str();
    if !known.materials.contains(material) {
        findings.push(Finding::error(
            "unknown-material",
            format!("/sections/{name}/material"),
            format!("No material is called `{material}`. {}", nearest(material, known.materials.iter())),
        ));
    }
    let (od, wall) = (section.round.od.get(), section.round.wall.get());
    if wall * 2.0 >= od {
        findings.push(Finding::error(
            "wall-too-thick",
            format!("/sections/{name}/round/wall"),
            format!("A wall of {wall} leaves no bore in a tube of {od}. Write a wall under {}.", od / 2.0),
        ));
    }
}

/// Ids, opposite hands included, with their members' places in the list.
fn members_by_id(document: &Value, findings: &mut Findings) -> BTreeMap<String, usize> {
    let mut members: BTreeMap<String, usize> = BTreeMap::new();
    for (index, member) in document["members"].as_array().into_iter().flatten().enumerate() {
        let Some(id) = member["id"].as_str() else { continue };
        let opposite = if member["mirror"] == true { other_hand(id) } else { None };
        for id in std::iter::once(id.to_owned()).chain(opposite) {
            if let Some(first) = members.insert(id.clone(), index) {
                let message = format!(
                    "`{id}` is already the id of member {first} of the list (counted from 0). Give each its own."
                );
                findings.push(Finding::error("duplicate-member", format!("/members/{index}/id"), message).about([id]));
            }
        }
    }
    members
}

/// Every name that a document defines.
struct Known {
    materials: BTreeSet<String>,
    sections: BTreeSet<String>,
    points: BTreeSet<String>,
    members: BTreeMap<String, usize>,
}

struct Referrer<'a> {
    member: &'a Member,
    index: usize,
    known: &'a Known,
    findings: &'a mut Findings,
}

impl Referrer<'_> {
    fn refer(&mut self) {
        let section = self.member.section.as_str();
        if !self.known.sections.contains(section) {
            let advice = nearest(section, self.known.sections.iter());
            self.error("unknown-section", "/section", format!("No section is called `{section}`. {advice}"));
        }
        let member = self.member;
        for (point, rest) in [(&member.from, "/from"), (&member.to, "/to")] {
            if let Some(point) = point {
                self.point(point, rest);
            }
        }
        for (at, point) in member.path.iter().flatten().enumerate() {
            self.point(point, &format!("/path/{at}"));
        }
        let Some(ends) = &member.ends else { return };
        for (cut, end) in [(&ends.from, "/ends/from"), (&ends.to, "/ends/to")] {
            match cut {
                Some(EndCut::Cope(targets)) => {
                    for (at, target) in targets.iter().enumerate() {
                        self.target(target.as_str(), &format!("{end}/cope/{at}"), true);
                    }
                }
                Some(EndCut::Mitre(mitre)) => self.mitre(mitre, end),
                Some(EndCut::Square) | None => {}
            }
        }
    }

    fn mitre(&mut self, mitre: &Mitre, end: &str) {
        if let Some(through) = &mitre.through {
            self.point(through, &format!("{end}/mitre/through"));
        }
        if mitre.with.is_some() == mitre.normal.is_some() || (mitre.with.is_some() && mitre.through.is_some()) {
            let message = "A mitre is given by `with` alone or by `normal` (and `through`, where the plane passes elsewhere). Write one of them.";
            self.error("mitre-unclear", &format!("{end}/mitre"), message.into());
        }
        if let Some(with) = &mitre.with {
            self.target(with.as_str(), &format!("{end}/mitre/with"), false);
        }
    }

    fn point(&mut self, point: &PointRef, rest: &str) {
        if let PointRef::Named(name) = point
            && !self.known.points.contains(name.as_str())
        {
            let advice = nearest(name.as_str(), self.known.points.iter());
            self.error("unknown-point", rest, format!("No point is called `{}`. {advice}", name.as_str()));
        }
    }

    fn target(&mut self, target: &str, rest: &str, must_come_before: bool) {
        let id = self.member.id.as_str();
        match self.known.members.get(target) {
            None => {
                let advice = nearest(target, self.known.members.keys());
                self.error("unknown-member", rest, format!("No member is called `{target}`. {advice}"));
            }
            Some(_) if target == id => {
                self.error("fitted-to-itself", rest, "A member cannot be fitted to itself. Name another.".into());
            }
            Some(&other) if must_come_before && other > self.index => {
                let message = format!(
                    "`{target}` comes later in the build order, so it is not there yet when `{id}` is fitted. Move `{id}` behind it, or fit `{target}` to `{id}`."
                );
                let pointer = format!("/members/{}{rest}", self.index);
                self.findings.push(Finding::error("fitted-to-later", pointer, message).about([id, target]));
            }
            Some(_) => {}
        }
    }

    fn error(&mut self, code: &str, rest: &str, message: String) {
        let pointer = format!("/members/{}{rest}", self.index);
        self.findings.push(Finding::error(code, pointer, message).about([self.member.id.as_str()]));
    }
}

fn nearest<'a>(name: &str, known: impl Iterator<Item = &'a String>) -> String {
    let best = known.max_by(|a, b| strsim::jaro_winkler(a, name).total_cmp(&strsim::jaro_winkler(b, name)));
    match best {
        Some(best) if strsim::jaro_winkler(best, name) > 0.7 => format!("Did you mean `{best}`?"),
        Some(_) => "Define it, or write another.".to_owned(),
        None => "None is defined yet: define it.".to_owned(),
    }
}
