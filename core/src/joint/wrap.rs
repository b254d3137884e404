//! One joint described on its own: a tube, the tubes that its end is fitted to, and the wrap for that end.
//!
//! The request is made into a small design document, so that it is read, checked and drawn as any other.

use crate::Evaluation;
use crate::document::{FORMAT, Finding, OneKit, Severity, pointer_step};
use crate::sheets::{End, Wrap};
use crate::words::findings::joint::JointFault;
use crate::{Stop, Stopped};
use serde::Deserialize;
use serde_json::{Map, Value, json};

/// Most tubes that an end can be fitted to in one request.
pub const MOST_ONTO: usize = 16;

/// Id of the tube that is cut.
const TUBE: &str = "tube";

/// What describes a tube's section.
const SECTION: [&str; 2] = ["round", "rect"];

/// What describes a tube's place.
const PLACE: [&str; 5] = ["from", "to", "path", "radius", "roll"];

/// A joint: one tube whose end is cut, and the tubes that it is fitted to.
///
/// A tube has a section, `round` (`od`, `wall`) or `rect` (`width`, `height`, `wall`, `corner`), in mm; a place, either `from` and
/// `to` as `[x, y, z]` in mm, or for a bent tube `path` (a list of corner points) and `radius`; and where wanted `roll` in degrees.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(deny_unknown_fields)]
pub struct JointRequest {
    /// The tube that is cut.
    #[cfg_attr(feature = "openapi", schema(value_type = Object, example = json!({"round": {"od": 60, "wall": 3}, "from": [0, 0, 400], "to": [0, 0, 0]})))]
    pub tube: Map<String, Value>,
    /// Which of its ends is cut.
    pub end: End,
    /// The tubes that the end is fitted to, 1 to 16.
    #[cfg_attr(feature = "openapi", schema(value_type = Vec<Object>, example = json!([{"round": {"od": 100, "wall": 4}, "from": [-500, 0, 0], "to": [500, 0, 0]}])))]
    pub onto: Vec<Map<String, Value>>,
    /// How the end is cut; a cope when absent.
    #[serde(default)]
    pub cut: JointCut,
    /// Root gap, mm; 0 when absent.
    #[serde(default)]
    #[cfg_attr(feature = "openapi", schema(value_type = Option<f64>))]
    pub gap: Option<Value>,
}

/// How the end of a single joint is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "lowercase")]
pub enum JointCut {
    /// Fitted to the outside of the other tubes.
    #[default]
    Cope,
    /// On the plane on which it meets the one other tube, whose end lies at the same point.
    Mitre,
}

/// A joint that could be made.
#[derive(Debug, Clone)]
pub struct OneJoint {
    /// The wrap of the end.
    pub wrap: Wrap,
    /// What is to be known about it, with places in the request.
    pub findings: Vec<Finding>,
    /// The small design that it came from.
    pub evaluation: Evaluation,
}

/// Computes the wrap of a joint.
///
/// # Errors
/// [`Stopped`] when it is no longer wanted; within, the findings, at least one of them an error, with JSON Pointers into the request.
pub fn one_joint(request: &JointRequest, stop: Stop) -> Result<Result<OneJoint, Vec<Finding>>, Stopped> {
    let document = match document(request) {
        Ok(document) => document,
        Err(findings) => return Ok(Err(findings)),
    };
    let evaluation = crate::evaluate_until(&document.to_string(), &OneKit::default(), stop)?;
    let onto = request.onto.len();
    let findings: Vec<Finding> = evaluation
        .findings
        .iter()
        .filter(|finding| finding.severity == Severity::Error || finding.members.iter().any(|member| member == TUBE))
        .map(|finding| Finding { pointer: place(&finding.pointer, onto), ..finding.clone() })
        .collect();
    let wrap = evaluation
        .sheets
        .as_ref()
        .and_then(|sheets| sheets.wraps.iter().find(|wrap| wrap.member == TUBE && wrap.end == request.end))
        .cloned();
    Ok(match wrap {
        Some(wrap) => Ok(OneJoint { wrap, findings, evaluation }),
        None => Err(findings),
    })
}

/// The request as a design document.
fn document(request: &JointRequest) -> Result<Value, Vec<Finding>> {
    let mut faults = Vec::new();
    let count = request.onto.len();
    if !(1..=MOST_ONTO).contains(&count) {
        let message = JointFault::Onto { most_onto: MOST_ONTO, count }.to_string();
        faults.push(Finding::error("joint-onto", "/onto".into(), message));
    }
    if request.cut == JointCut::Mitre && count > 1 {
        let message = JointFault::MitreOfTwo.to_string();
        faults.push(Finding::error("joint-mitre", "/onto".into(), message));
    }
    let (mut sections, mut members) = (Map::new(), Vec::new());
    for (index, tube) in request.onto.iter().enumerate() {
        let mut member = split(tube, &name(index), &format!("/onto/{index}"), &mut sections, &mut faults);
        member.insert("ends".into(), json!({"from": "square", "to": "square"}));
        members.push(member);
    }
    let mut tube = split(&request.tube, TUBE, "/tube", &mut sections, &mut faults);
    let cut = match request.cut {
        JointCut::Cope => json!({"cope": (0..count).map(name).collect::<Vec<_>>()}),
        JointCut::Mitre => json!({"mitre": {"with": name(0)}}),
    };
    let ends = match request.end {
        End::From => json!({"from": cut, "to": "square"}),
        End::To => json!({"from": "square", "to": cut}),
    };
    tube.insert("ends".into(), ends);
    if let Some(gap) = &request.gap {
        tube.insert("gap".into(), gap.clone());
    }
    members.push(tube);
    if !faults.is_empty() {
        return Err(faults);
    }
    Ok(json!({
        "format": FORMAT, "name": "Single joint",
        "materials": {"steel": {"name": "steel", "density": 7850}},
        "sections": sections, "points": {}, "members": members,
    }))
}

/// Name in the document of a tube that the end is fitted to.
fn name(index: usize) -> String {
    format!("onto-{}", index + 1)
}

/// Parts a tube into its section, added to `sections` under the tube's own name, and its member.
fn split(
    tube: &Map<String, Value>,
    name: &str,
    pointer: &str,
    sections: &mut Map<String, Value>,
    faults: &mut Vec<Finding>,
) -> Map<String, Value> {
    let mut section = Map::from_iter([("material".to_owned(), json!("steel"))]);
    let mut member = Map::from_iter([("id".to_owned(), json!(name)), ("section".to_owned(), json!(name))]);
    for (key, value) in tube {
        if SECTION.contains(&key.as_str()) {
            section.insert(key.clone(), value.clone());
        } else if PLACE.contains(&key.as_str()) {
            member.insert(key.clone(), value.clone());
        } else {
            let place = format!("{pointer}/{}", pointer_step(key));
            let known = [&SECTION[..], &PLACE[..]].concat().join(", ");
            faults.push(Finding::error("joint-field", place, JointFault::UnknownField { known: &known }));
        }
    }
    sections.insert(name.to_owned(), section.into());
    member
}

/// The place in the request that a place in its document stands for.
fn place(pointer: &str, onto: usize) -> String {
    let mut steps = pointer.splitn(4, '/').skip(1);
    let (list, which, rest) = (steps.next().unwrap_or(""), steps.next().unwrap_or(""), steps.next());
    let index = match list {
        "members" => which.parse::<usize>().ok(),
        "sections" => (0..onto).find(|&index| name(index) == which).or((which == TUBE).then_some(onto)),
        _ => None,
    };
    let Some(index) = index else { return String::new() };
    let tube = if index < onto { format!("/onto/{index}") } else { "/tube".to_owned() };
    match rest {
        None | Some("id" | "section" | "material") => tube,
        Some("gap") => "/gap".to_owned(),
        Some(rest) if rest.starts_with("ends") => "/onto".to_owned(),
        Some(rest) => format!("{tube}/{rest}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_of_the_document_are_places_of_the_request() {
        for (document, request) in [
            ("/members/0/from", "/onto/0/from"),
            ("/members/2/path/1", "/tube/path/1"),
            ("/members/2", "/tube"),
            ("/members/2/ends/to/mitre", "/onto"),
            ("/members/2/gap", "/gap"),
            ("/sections/onto-2/round/od", "/onto/1/round/od"),
            ("/sections/tube/round", "/tube/round"),
            ("/members", ""),
        ] {
            assert_eq!(place(document, 2), request, "{document}");
        }
    }
}
