//! Refers every name in a document to what it names.

use crate::words::findings::document::DocumentFault;
use crate::words::findings::values::Advice;
mod rest;
mod sections;

use super::end_cut::{EndCut, Mitre};
use super::field::Field;
use super::finding::{Finding, Findings};
use super::kit::When;
use super::member::Member;
use super::place::JsonPlace;
use super::point::PointRef;
use super::scalar::Name;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// The name of the opposite hand: `.L` for `.R` and the other way round; `None` for a name without hand.
#[must_use]
pub fn other_hand(name: &str) -> Option<String> {
    match name.strip_suffix(".L") {
        Some(stem) => Some(format!("{stem}.R")),
        None => name.strip_suffix(".R").map(|stem| format!("{stem}.L")),
    }
}

/// Adds a finding for every name that names nothing, and for members that cannot be fitted to what they name.
///
/// Works on the parsed text, so that what cannot be read in one place does not hide what is wrong in another; `members` are those
/// that can be read, with their places in the list.
pub(super) fn refer(document: &Value, members: &[(usize, &Member)], findings: &mut Findings) {
    let known = Known {
        materials: keys(document, "materials"),
        sections: keys(document, "sections"),
        points: keys(document, "points")
            .into_iter()
            .flat_map(|name| [other_hand(&name), Some(name)])
            .flatten()
            .collect(),
        checks: keys(document, "checks"),
        gauges: keys(document, "gauges"),
        options: options(document),
        plates: plates(document),
        members: members_by_id(document, findings),
    };
    sections::refer(document, &known, findings);
    for &(index, member) in members {
        Referrer { member, index, known: &known, findings }.refer();
    }
    rest::refer(document, &known, findings);
}

fn options(document: &Value) -> BTreeMap<String, BTreeSet<String>> {
    let choices = |option: &Value| {
        option["choices"].as_array().into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect()
    };
    let options = document["options"].as_object().into_iter().flatten();
    options.map(|(name, option)| (name.clone(), choices(option))).collect()
}

/// Names of plates, opposite hands included.
fn plates(document: &Value) -> BTreeSet<String> {
    let plates = document["plates"].as_object().into_iter().flatten();
    plates
        .flat_map(|(name, plate)| {
            let opposite = if plate["mirror"] == true { other_hand(name) } else { None };
            [Some(name.clone()), opposite]
        })
        .flatten()
        .collect()
}

/// Members that can be read, with their places in the list.
pub(super) fn readable_members(document: &Value) -> Vec<(usize, Member)> {
    let members = document["members"].as_array().into_iter().flatten().enumerate();
    members.filter_map(|(index, member)| readable(member).map(|member| (index, member))).collect()
}

pub(super) fn readable<T: Field>(value: &Value) -> Option<T> {
    T::read(value, &JsonPlace::Root, &mut Findings::default())
}

fn keys(document: &Value, name: &str) -> BTreeSet<String> {
    document[name].as_object().into_iter().flatten().map(|(name, _)| name.clone()).collect()
}

/// Ids, opposite hands included, with their members' places in the list.
fn members_by_id(document: &Value, findings: &mut Findings) -> BTreeMap<String, usize> {
    let mut members: BTreeMap<String, usize> = BTreeMap::new();
    for (index, member) in document["members"].as_array().into_iter().flatten().enumerate() {
        let Some(id) = member["id"].as_str() else { continue };
        let opposite = if member["mirror"] == true { other_hand(id) } else { None };
        for id in std::iter::once(id.to_owned()).chain(opposite) {
            if let Some(first) = members.insert(id.clone(), index) {
                let fact = DocumentFault::IdTaken { id: &id, first };
                findings.push(Finding::error("duplicate-member", format!("/members/{index}/id"), fact).about([id]));
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
    plates: BTreeSet<String>,
    checks: BTreeSet<String>,
    gauges: BTreeSet<String>,
    options: BTreeMap<String, BTreeSet<String>>,
}

impl Known {
    /// Adds findings for options and choices that are not there.
    fn when(&self, when: Option<&When>, pointer: &str, findings: &mut Findings) {
        for (option, choice) in when.into_iter().flatten() {
            match self.options.get(option) {
                None => findings.push(Finding::error(
                    "unknown-option",
                    format!("{pointer}/when/{option}"),
                    DocumentFault::UnknownOption { option, advice: nearest(option, self.options.keys()) },
                )),
                Some(choices) if !choices.contains(choice.as_str()) => findings.push(Finding::error(
                    "unknown-choice",
                    format!("{pointer}/when/{option}"),
                    DocumentFault::UnknownChoice {
                        option,
                        choice: choice.as_str(),
                        advice: nearest(choice.as_str(), choices.iter()),
                    },
                )),
                Some(_) => {}
            }
        }
    }

    /// Adds a finding for a point that is not there.
    fn point(&self, point: &PointRef, pointer: String, findings: &mut Findings) {
        if let PointRef::Named(name) = point {
            self.point_named(name.as_str(), pointer, findings);
        }
    }

    fn point_named(&self, name: &str, pointer: String, findings: &mut Findings) {
        if !self.points.contains(name) {
            let advice = nearest(name, self.points.iter());
            findings.push(Finding::error("unknown-point", pointer, DocumentFault::UnknownPoint { name, advice }));
        }
    }

    /// Adds a finding for something of the fit-up order that is not there.
    fn placed(&self, name: &str, pointer: String, findings: &mut Findings) {
        if !self.members.contains_key(name) && !self.plates.contains(name) {
            let advice = nearest(name, self.members.keys().chain(&self.plates));
            findings.push(Finding::error(
                "unknown-member",
                pointer,
                DocumentFault::UnknownMemberOrPlate { name, advice },
            ));
        }
    }
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
            self.error("unknown-section", "/section", DocumentFault::UnknownSection { section, advice });
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
        self.known.when(member.when.as_ref(), &format!("/members/{}", self.index), self.findings);
        if let Some(long) = &member.leave_long {
            self.trimmed(long.from.is_some(), long.trim_from_after.as_ref(), "/leave_long/trim_from_after");
            self.trimmed(long.to.is_some(), long.trim_to_after.as_ref(), "/leave_long/trim_to_after");
        }
        let Some(ends) = &member.ends else { return };
        for (cut, end) in [(&ends.from, "/ends/from"), (&ends.to, "/ends/to")] {
            match cut {
                Some(EndCut::Fitted { cope, mitre, face }) => {
                    for (at, target) in cope.iter().enumerate() {
                        self.target(target.as_str(), &format!("{end}/cope/{at}"), true, true);
                    }
                    if let Some(mitre) = mitre {
                        self.mitre(mitre, end);
                    }
                    if let Some(face) = face {
                        self.target(face.of.as_str(), &format!("{end}/face/of"), true, true);
                    }
                }
                Some(EndCut::Plug(plug)) => {
                    self.target(plug.into.as_str(), &format!("{end}/plug/into"), true, false);
                }
                Some(EndCut::Sleeve(sleeve)) => {
                    self.target(sleeve.over.as_str(), &format!("{end}/sleeve/over"), true, false);
                }
                Some(EndCut::Square) | None => {}
            }
        }
    }

    /// What an end left long is trimmed after.
    fn trimmed(&mut self, is_long: bool, after: Option<&Name>, rest: &str) {
        let Some(after) = after else { return };
        self.known.placed(after.as_str(), format!("/members/{}{rest}", self.index), self.findings);
        if !is_long {
            let fact = DocumentFault::NothingLong;
            self.error("trim-nothing", rest, fact);
        }
    }

    fn mitre(&mut self, mitre: &Mitre, end: &str) {
        if let Some(through) = &mitre.through {
            self.point(through, &format!("{end}/mitre/through"));
        }
        if mitre.with.is_some() == mitre.normal.is_some() || (mitre.with.is_some() && mitre.through.is_some()) {
            let fact = DocumentFault::MitreUnclear;
            self.error("mitre-unclear", &format!("{end}/mitre"), fact);
        }
        if let Some(with) = &mitre.with {
            self.target(with.as_str(), &format!("{end}/mitre/with"), false, false);
        }
    }

    fn point(&mut self, point: &PointRef, rest: &str) {
        let pointer = format!("/members/{}{rest}", self.index);
        let known = self.known;
        let mut found = Findings::default();
        known.point(point, pointer, &mut found);
        for finding in found.into_sorted() {
            self.findings.push(finding.about([self.member.id.as_str()]));
        }
    }

    fn target(&mut self, target: &str, rest: &str, must_come_before: bool, may_be_plate: bool) {
        let id = self.member.id.as_str();
        match self.known.members.get(target) {
            None if may_be_plate && self.known.plates.contains(target) => {}
            None => {
                let advice = nearest(target, self.known.members.keys());
                let fact = if may_be_plate {
                    DocumentFault::UnknownMemberOrPlate { name: target, advice }
                } else {
                    DocumentFault::UnknownMember { member: target, advice }
                };
                self.error("unknown-member", rest, fact);
            }
            Some(_) if target == id => {
                self.error("fitted-to-itself", rest, DocumentFault::FittedToItself);
            }
            Some(&other) if must_come_before && other > self.index => {
                let fact = DocumentFault::FittedToLater { target, id };
                let pointer = format!("/members/{}{rest}", self.index);
                self.findings.push(Finding::error("fitted-to-later", pointer, fact).about([id, target]));
            }
            Some(_) => {}
        }
    }

    fn error(&mut self, code: &str, rest: &str, fact: DocumentFault) {
        let pointer = format!("/members/{}{rest}", self.index);
        self.findings.push(Finding::error(code, pointer, fact).about([self.member.id.as_str()]));
    }
}

/// What to do about a name that a document uses and does not define.
pub(super) fn nearest<'a>(name: &str, known: impl Iterator<Item = &'a String>) -> Advice<'a> {
    advice(name, known, [Advice::DefineIt, Advice::NoneDefined])
}

/// What to do about a name that a kit uses and its design, which may be published, does not have.
pub(super) fn nearest_in_design<'a>(name: &str, known: impl Iterator<Item = &'a String>) -> Advice<'a> {
    advice(name, known, [Advice::LeaveItOut, Advice::NoneInDesign])
}

fn advice<'a>(
    name: &str,
    known: impl Iterator<Item = &'a String>,
    [among_others, alone]: [Advice<'a>; 2],
) -> Advice<'a> {
    let best = known.max_by(|a, b| strsim::jaro_winkler(a, name).total_cmp(&strsim::jaro_winkler(b, name)));
    match best {
        Some(nearest) if strsim::jaro_winkler(nearest, name) > 0.7 => Advice::DidYouMean { nearest },
        Some(_) => among_others,
        None => alone,
    }
}
