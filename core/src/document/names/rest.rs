//! Plates, holes, gauges, checks, steps and options: what they name.

use super::{Known, nearest, other_hand, readable};
use crate::document::finding::{Finding, Findings};
use crate::document::hole::Hole;
use crate::document::kit::{Check, Choice, Gauge, Step};
use crate::document::plate::Plate;
use crate::words::findings::document::DocumentFault;
use serde_json::Value;
use std::collections::BTreeSet;

pub(super) fn refer(document: &Value, known: &Known, findings: &mut Findings) {
    let named = |list: &'static str| document[list].as_object().into_iter().flatten();
    for (name, plate) in named("plates") {
        if let Some(plate) = readable::<Plate>(plate) {
            refer_plate(name, &plate, known, findings);
        }
    }
    for (name, hole) in named("holes") {
        if let Some(hole) = readable::<Hole>(hole) {
            refer_hole(name, &hole, known, findings);
        }
    }
    for (name, gauge) in named("gauges") {
        if let Some(gauge) = readable::<Gauge>(gauge) {
            refer_gauge(name, &gauge, &document["points"], known, findings);
        }
    }
    for (name, check) in named("checks") {
        if let Some(check) = readable::<Check>(check) {
            refer_check(name, &check, known, findings);
        }
    }
    for (name, choice) in named("options") {
        if let Some(choice) = readable::<Choice>(choice) {
            refer_choice(name, &choice, findings);
        }
    }
    for (index, step) in document["steps"].as_array().into_iter().flatten().enumerate() {
        if let Some(step) = readable::<Step>(step) {
            refer_step(index, &step, known, findings);
        }
    }
}

fn mirror_name(name: &str, mirror: Option<bool>, list: &str, findings: &mut Findings) {
    if mirror == Some(true) && other_hand(name).is_none() {
        let fact = DocumentFault::MirrorName;
        findings.push(Finding::error("mirror-name", format!("/{list}/{name}"), fact));
    }
}

fn refer_plate(name: &str, plate: &Plate, known: &Known, findings: &mut Findings) {
    let at = |rest: &str| format!("/plates/{name}{rest}");
    mirror_name(name, plate.mirror, "plates", findings);
    if known.members.contains_key(name) {
        let fact = DocumentFault::PlateNamedAsMember { name };
        findings.push(Finding::error("duplicate-member", at(""), fact));
    }
    let material = plate.material.as_str();
    if !known.materials.contains(material) {
        let fact = DocumentFault::UnknownMaterial { material, advice: nearest(material, known.materials.iter()) };
        findings.push(Finding::error("unknown-material", at("/material"), fact));
    }
    let place = &plate.place;
    match (&place.at, &place.normal, &place.along, &place.on, place.station, place.clock) {
        (Some(point), Some(_), Some(_), None, None, None) => known.point(point, at("/place/at"), findings),
        (None, None, None, Some(on), Some(_), Some(_)) => {
            if !known.members.contains_key(on.as_str()) {
                let advice = nearest(on.as_str(), known.members.keys());
                let fact = DocumentFault::UnknownMember { member: on.as_str(), advice };
                findings.push(Finding::error("unknown-member", at("/place/on"), fact));
            }
        }
        _ => {
            let fact = DocumentFault::PlaceUnclear;
            findings.push(Finding::error("place-unclear", at("/place"), fact));
        }
    }
    if let Some(after) = &plate.after {
        known.placed(after.as_str(), at("/after"), findings);
        if known.plates.contains(after.as_str()) {
            let fact = DocumentFault::AfterPlate;
            findings.push(Finding::error("after-plate", at("/after"), fact));
        }
    }
    known.when(plate.when.as_ref(), &at(""), findings);
}

fn refer_hole(name: &str, hole: &Hole, known: &Known, findings: &mut Findings) {
    mirror_name(name, hole.mirror, "holes", findings);
    let member = hole.member.as_str();
    if !known.members.contains_key(member) {
        let fact = DocumentFault::UnknownMember { member, advice: nearest(member, known.members.keys()) };
        findings.push(Finding::error("unknown-member", format!("/holes/{name}/member"), fact));
    } else if hole.mirror == Some(true) && !other_hand(member).is_some_and(|other| known.members.contains_key(&other)) {
        let fact = DocumentFault::HoleNotMirrored { member };
        findings.push(Finding::error("mirror-member", format!("/holes/{name}/mirror"), fact));
    }
    known.when(hole.when.as_ref(), &format!("/holes/{name}"), findings);
}

fn refer_gauge(name: &str, gauge: &Gauge, given: &Value, known: &Known, findings: &mut Findings) {
    let (least, nominal, most) = (gauge.least.get(), gauge.nominal.get(), gauge.most.get());
    if !(least <= nominal && nominal <= most) {
        let fact = DocumentFault::GaugeLimits { nominal, least, most };
        findings.push(Finding::error("gauge-limits", format!("/gauges/{name}"), fact));
    }
    for point in gauge.moves.keys() {
        known.point_named(point, format!("/gauges/{name}/moves/{point}"), findings);
        let partner = other_hand(point).filter(|partner| gauge.moves.contains_key(partner));
        if let Some(partner) = partner.filter(|_| given.get(point).is_none()) {
            let fact = DocumentFault::MovedTwice { point, partner: &partner };
            findings.push(Finding::error("moved-twice", format!("/gauges/{name}/moves/{point}"), fact));
        }
    }
}

fn refer_check(name: &str, check: &Check, known: &Known, findings: &mut Findings) {
    if check.between.len() != 2 {
        let fact = DocumentFault::CheckPoints { count: check.between.len() };
        findings.push(Finding::error("check-points", format!("/checks/{name}/between"), fact));
    }
    for (index, point) in check.between.iter().enumerate() {
        known.point(point, format!("/checks/{name}/between/{index}"), findings);
    }
}

fn refer_choice(name: &str, choice: &Choice, findings: &mut Findings) {
    let different: BTreeSet<&str> = choice.choices.iter().map(|choice| choice.as_str()).collect();
    if different.len() < 2 || different.len() != choice.choices.len() {
        let fact = DocumentFault::OptionChoices;
        findings.push(Finding::error("option-choices", format!("/options/{name}/choices"), fact));
    }
}

fn refer_step(index: usize, step: &Step, known: &Known, findings: &mut Findings) {
    known.placed(step.after.as_str(), format!("/steps/{index}/after"), findings);
    for (at, check) in step.checks.iter().flatten().enumerate() {
        if !known.checks.contains(check.as_str()) {
            let advice = nearest(check.as_str(), known.checks.iter());
            let fact = DocumentFault::UnknownCheck { check: check.as_str(), advice };
            findings.push(Finding::error("unknown-check", format!("/steps/{index}/checks/{at}"), fact));
        }
    }
    for (at, gauge) in step.gauges.iter().flatten().enumerate() {
        if !known.gauges.contains(gauge.as_str()) {
            let advice = nearest(gauge.as_str(), known.gauges.iter());
            let fact = DocumentFault::UnknownGauge { gauge: gauge.as_str(), advice };
            findings.push(Finding::error("unknown-gauge", format!("/steps/{index}/gauges/{at}"), fact));
        }
    }
    known.when(step.when.as_ref(), &format!("/steps/{index}"), findings);
}
