//! Refers every name in a document to what it names.

use super::design::{Design, EndCut, Member, Mitre, PointRef};
use super::finding::{Finding, Findings};
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
pub(super) fn refer(design: &Design, findings: &mut Findings) {
    sections(design, findings);
    let members = members_by_id(design, findings);
    let points: BTreeSet<String> =
        design.points.keys().flat_map(|name| [Some(name.clone()), other_hand(name)]).flatten().collect();
    for (index, member) in design.members.iter().enumerate() {
        Referrer { design, member, index, members: &members, points: &points, findings }.refer();
    }
}

fn sections(design: &Design, findings: &mut Findings) {
    for (name, section) in &design.sections {
        let material = section.material.as_str();
        if !design.materials.contains_key(material) {
            findings.push(Finding::error(
                "unknown-material",
                format!("/sections/{name}/material"),
                format!("No material is called `{material}`. {}", nearest(material, design.materials.keys())),
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
}

/// Ids, opposite hands included, with their members' places in the list.
fn members_by_id(design: &Design, findings: &mut Findings) -> BTreeMap<String, usize> {
    let mut members: BTreeMap<String, usize> = BTreeMap::new();
    for (index, member) in design.members.iter().enumerate() {
        let id = member.id.as_str().to_owned();
        let opposite = if member.mirror == Some(true) { other_hand(&id) } else { None };
        for id in std::iter::once(id).chain(opposite) {
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

struct Referrer<'a> {
    design: &'a Design,
    member: &'a Member,
    index: usize,
    members: &'a BTreeMap<String, usize>,
    points: &'a BTreeSet<String>,
    findings: &'a mut Findings,
}

impl Referrer<'_> {
    fn refer(&mut self) {
        let section = self.member.section.as_str();
        if !self.design.sections.contains_key(section) {
            let advice = nearest(section, self.design.sections.keys());
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
            && !self.points.contains(name.as_str())
        {
            let advice = nearest(name.as_str(), self.points.iter());
            self.error("unknown-point", rest, format!("No point is called `{}`. {advice}", name.as_str()));
        }
    }

    fn target(&mut self, target: &str, rest: &str, must_come_before: bool) {
        let id = self.member.id.as_str();
        match self.members.get(target) {
            None => {
                let advice = nearest(target, self.members.keys());
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
