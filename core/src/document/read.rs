//! Reading a document: structure first, then what its names refer to.

use super::canonical::Canonical;
use super::design::{Design, EndCut, Member, PointRef};
use super::field::Field;
use super::finding::{Finding, Findings};
use super::json;
use super::place::Place;
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// What reading a document gave.
#[derive(Debug)]
pub struct Reading {
    /// The design; `None` when its structure could not be used.
    pub design: Option<Design>,
    /// Its canonical form; `None` when the text is not JSON.
    pub canonical: Option<Canonical>,
    /// Everything that was found, in the order it was found.
    pub findings: Findings,
}

/// Reads a design document, collecting every finding in one go.
#[must_use]
pub fn read(text: &str) -> Reading {
    let mut findings = Findings::default();
    let value = json::parse(text, &mut findings);
    let canonical = value.as_ref().and_then(Canonical::of);
    let design = value.and_then(|value| Design::read(&value, &Place::Root, &mut findings));
    if let Some(design) = &design {
        names(design, &mut findings);
        for (index, member) in design.members.iter().enumerate() {
            shape_of_member(member, index, &mut findings);
        }
    }
    Reading {
        design,
        canonical,
        findings,
    }
}

/// The JSON Schema (draft 2020-12) of `matchmark-design/1`.
#[must_use]
pub fn schema() -> Value {
    let mut schema =
        json!({"$schema": "https://json-schema.org/draft/2020-12/schema", "title": super::FORMAT});
    if let (Value::Object(schema), Value::Object(design)) = (&mut schema, Design::schema()) {
        schema.extend(design);
    }
    schema
}

fn pointer(index: usize, rest: &str) -> String {
    format!("/members/{index}{rest}")
}

/// Refers every name to what it names.
fn names(design: &Design, findings: &mut Findings) {
    for (name, section) in &design.sections {
        let material = section.material.as_str();
        if !design.materials.contains_key(material) {
            findings.push(Finding::error(
                "unknown-material",
                format!("/sections/{name}/material"),
                format!(
                    "No material is called `{material}`. {}",
                    nearest(material, design.materials.keys())
                ),
            ));
        }
        let (od, wall) = (section.round.od.get(), section.round.wall.get());
        if wall * 2.0 >= od {
            findings.push(Finding::error(
                "wall-too-thick",
                format!("/sections/{name}/round/wall"),
                format!(
                    "A wall of {wall} leaves no bore in a tube of {od}. Write a wall under {}.",
                    od / 2.0
                ),
            ));
        }
    }
    let mut ids: BTreeMap<String, usize> = BTreeMap::new();
    for (index, member) in design.members.iter().enumerate() {
        let id = member.id.as_str();
        let mirrored = if member.mirror == Some(true) {
            other_hand(id)
        } else {
            None
        };
        for id in [Some(id.to_owned()), mirrored].into_iter().flatten() {
            if let Some(first) = ids.insert(id.clone(), index) {
                findings.push(
                    Finding::error(
                        "duplicate-member",
                        pointer(index, "/id"),
                        format!("`{id}` is already the id of member {first} of the list (counted from 0). Give each its own."),
                    )
                    .about([id]),
                );
            }
        }
    }
    let points: BTreeSet<String> = design
        .points
        .keys()
        .flat_map(|name| [Some(name.clone()), other_hand(name)])
        .flatten()
        .collect();
    for (index, member) in design.members.iter().enumerate() {
        member_names(design, member, index, &ids, &points, findings);
    }
}

fn member_names(
    design: &Design,
    member: &Member,
    index: usize,
    ids: &BTreeMap<String, usize>,
    points: &BTreeSet<String>,
    findings: &mut Findings,
) {
    let id = member.id.as_str();
    let section = member.section.as_str();
    if !design.sections.contains_key(section) {
        let advice = nearest(section, design.sections.keys());
        findings.push(
            Finding::error(
                "unknown-section",
                pointer(index, "/section"),
                format!("No section is called `{section}`. {advice}"),
            )
            .about([id]),
        );
    }
    let mut check_point = |point: &PointRef, rest: String| {
        if let PointRef::Named(name) = point
            && !points.contains(name.as_str())
        {
            let name = name.as_str();
            let advice = nearest(name, points.iter());
            findings.push(
                Finding::error(
                    "unknown-point",
                    pointer(index, &rest),
                    format!("No point is called `{name}`. {advice}"),
                )
                .about([id]),
            );
        }
    };
    for (point, rest) in [(&member.from, "/from"), (&member.to, "/to")] {
        if let Some(point) = point {
            check_point(point, rest.to_owned());
        }
    }
    for (at, point) in member.path.iter().flatten().enumerate() {
        check_point(point, format!("/path/{at}"));
    }
    let Some(ends) = &member.ends else { return };
    for (cut, end) in [(&ends.from, "from"), (&ends.to, "to")] {
        let named: Vec<(&str, String)> = match cut {
            Some(EndCut::Cope(targets)) => targets
                .iter()
                .enumerate()
                .map(|(at, target)| (target.as_str(), format!("/ends/{end}/cope/{at}")))
                .collect(),
            Some(EndCut::Mitre(mitre)) => {
                if let Some(PointRef::Named(name)) = &mitre.through
                    && !points.contains(name.as_str())
                {
                    let advice = nearest(name.as_str(), points.iter());
                    findings.push(
                        Finding::error(
                            "unknown-point",
                            pointer(index, &format!("/ends/{end}/mitre/through")),
                            format!("No point is called `{}`. {advice}", name.as_str()),
                        )
                        .about([id]),
                    );
                }
                if mitre.with.is_some() == mitre.normal.is_some()
                    || (mitre.with.is_some() && mitre.through.is_some())
                {
                    findings.push(
                        Finding::error(
                            "mitre-unclear",
                            pointer(index, &format!("/ends/{end}/mitre")),
                            "A mitre is given by `with` alone or by `normal` (and `through`, where the plane passes elsewhere). Write one of them.".into(),
                        )
                        .about([id]),
                    );
                }
                mitre
                    .with
                    .iter()
                    .map(|with| (with.as_str(), format!("/ends/{end}/mitre/with")))
                    .collect()
            }
            _ => Vec::new(),
        };
        let must_come_before = matches!(cut, Some(EndCut::Cope(_)));
        for (target, rest) in named {
            let at = pointer(index, &rest);
            match ids.get(target) {
                None => {
                    let advice = nearest(target, ids.keys());
                    findings.push(Finding::error("unknown-member", at, format!("No member is called `{target}`. {advice}")).about([id]));
                }
                Some(_) if target == id => {
                    findings.push(Finding::error("fitted-to-itself", at, "A member cannot be fitted to itself. Name another.".into()).about([id]));
                }
                Some(&other) if must_come_before && other > index => findings.push(
                    Finding::error(
                        "fitted-to-later",
                        at,
                        format!("`{target}` comes later in the build order, so it is not there yet when `{id}` is fitted. Move `{id}` behind it, or fit `{target}` to `{id}`."),
                    )
                    .about([id, target]),
                ),
                Some(_) => {}
            }
        }
    }
}

/// Straight or bent, and named so that it can be mirrored.
fn shape_of_member(member: &Member, index: usize, findings: &mut Findings) {
    let id = member.id.as_str();
    let mut error = |code: &str, rest: &str, message: &str| {
        findings.push(Finding::error(code, pointer(index, rest), message.to_owned()).about([id]));
    };
    match (&member.from, &member.to, &member.path) {
        (Some(_), Some(_), None) => {
            if member.radius.is_some() {
                error(
                    "radius-without-path",
                    "/radius",
                    "A straight member has no bend radius. Remove it, or give a `path`.",
                );
            }
        }
        (None, None, Some(path)) => {
            if path.len() < 2 {
                error(
                    "short-path",
                    "/path",
                    "A path needs at least two points. Add them.",
                );
            }
            if path.len() > 2 && member.radius.is_none() {
                error(
                    "missing-field",
                    "",
                    "`radius` is missing here: a path with corners needs the centreline radius of its bends. Add it.",
                );
            }
        }
        _ => error(
            "member-unclear",
            "",
            "A member is straight (`from` and `to`) or bent (`path` and `radius`). Give the one or the other.",
        ),
    }
    if member.mirror == Some(true) && other_hand(id).is_none() {
        error(
            "mirror-name",
            "/id",
            "A mirrored member's id ends in `.L` or `.R`, so that its opposite hand has a name. Rename it.",
        );
    }
}

/// The name of the opposite hand: `.L` for `.R` and the other way round; `None` for a name without hand.
#[must_use]
pub(crate) fn other_hand(name: &str) -> Option<String> {
    match name.strip_suffix(".L") {
        Some(stem) => Some(format!("{stem}.R")),
        None => name.strip_suffix(".R").map(|stem| format!("{stem}.L")),
    }
}

fn nearest<'a>(name: &str, known: impl Iterator<Item = &'a String>) -> String {
    let best = known
        .max_by(|a, b| strsim::jaro_winkler(a, name).total_cmp(&strsim::jaro_winkler(b, name)));
    match best {
        Some(best) if strsim::jaro_winkler(best, name) > 0.7 => format!("Did you mean `{best}`?"),
        Some(_) => "Define it, or write another.".to_owned(),
        None => "None is defined yet: define it.".to_owned(),
    }
}
