//! Reading a document: structure first, then what its names refer to.

use super::canonical::Canonical;
use super::design::Design;
use super::field::{FOR_EDITORS, Field};
use super::finding::{Finding, Findings};
use super::json;
use super::member::Member;
use super::names;
use super::names::other_hand;
use super::place::JsonPlace;
use crate::words::findings::document::DocumentFault;
use serde_json::{Value, json};

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
    let Some(value) = json::parse(text, &mut findings) else {
        return Reading { design: None, canonical: None, findings };
    };
    let (design, canonical) = rayon::join(|| design(&value, &mut findings), || Canonical::of(&value));
    Reading { design, canonical, findings }
}

/// Reads the design that a parsed document holds; `None` when its structure cannot be used.
#[must_use]
pub(crate) fn design(value: &Value, findings: &mut Findings) -> Option<Design> {
    let design = Design::read(value, &JsonPlace::Root, findings);
    let alone = if design.is_none() { names::readable_members(value) } else { Vec::new() };
    let members: Vec<(usize, &Member)> = match &design {
        Some(design) => design.members.iter().enumerate().collect(),
        None => alone.iter().map(|(index, member)| (*index, member)).collect(),
    };
    names::refer(value, &members, findings);
    for (index, member) in members {
        shape_of_member(member, index, findings);
    }
    design
}

/// The JSON Schema (draft 2020-12) of `matchmark-design/1`.
#[must_use]
pub fn schema() -> Value {
    let mut schema = json!({"$schema": "https://json-schema.org/draft/2020-12/schema", "title": super::FORMAT});
    if let (Value::Object(schema), Value::Object(design)) = (&mut schema, Design::schema()) {
        schema.extend(design);
        schema["properties"][FOR_EDITORS] = json!({"type": "string", "description": "Address of this schema, for editors; it says nothing of the design."});
    }
    schema
}

/// Straight or bent, and named so that it can be mirrored.
fn shape_of_member(member: &Member, index: usize, findings: &mut Findings) {
    let id = member.id.as_str();
    let mut error = |code: &str, rest: &str, fact: DocumentFault| {
        findings.push(Finding::error(code, format!("/members/{index}{rest}"), fact).about([id]));
    };
    match (&member.from, &member.to, &member.path) {
        (Some(_), Some(_), None) => {
            if member.radius.is_some() {
                error("radius-without-path", "/radius", DocumentFault::StraightRadius);
            }
        }
        (None, None, Some(path)) => {
            if path.len() < 2 {
                error("short-path", "/path", DocumentFault::ShortPath);
            }
            if path.len() > 2 && member.radius.is_none() {
                error("missing-field", "", DocumentFault::NoRadius);
            }
        }
        _ => error("member-unclear", "", DocumentFault::MemberUnclear),
    }
    if member.mirror == Some(true) && other_hand(id).is_none() {
        error("mirror-name", "/id", DocumentFault::MirroredId);
    }
}
