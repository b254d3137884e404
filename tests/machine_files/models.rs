//! The model read back: by the validator of the format's authors, and by trimesh.

use crate::readers::{figure, figures, node, python};
use crate::written::{BENCH, DEMO, Frame};
use matchmark_core::frame::SectionSize;
use matchmark_core::geometry::DVec3;
use std::collections::BTreeSet;

/// Sides of a round tube in the model.
const SIDES: f64 = 64.0;

#[test]
fn a_validator_finds_nothing_to_say() {
    for frame in [&DEMO, &BENCH] {
        let (files, _) = frame.written(&["glb"]);
        let read = node("validate_models.mjs", &files);
        let issues = &read["issues"];
        assert!(issues["numErrors"] == 0 && issues["numWarnings"] == 0 && issues["numInfos"] == 0, "{issues}");
        let subject = frame.subject();
        let nodes = read["nodes"].as_array().unwrap();
        let named: BTreeSet<&str> = nodes[1..].iter().map(|node| node["name"].as_str().unwrap()).collect();
        let made = subject.made;
        let parts = made.frame.members.iter().map(|member| member.id.as_str());
        let wanted: BTreeSet<&str> = parts.chain(made.frame.plates.iter().map(|plate| plate.id.as_str())).collect();
        assert_eq!(named, wanted);
        for node in &nodes[1..] {
            let id = node["name"].as_str().unwrap();
            let row = subject.sheets.parts.iter().find(|row| row.members.iter().any(|member| member == id)).unwrap();
            assert_eq!(node["extras"]["part"], row.number.as_str());
            assert_eq!(node["extras"]["member"], id);
            assert!(node["extras"]["holes_not_shown"].is_null(), "{node}");
        }
        assert!(read["asset"]["extras"]["title"].as_str().unwrap().contains("revision B"));
    }
}

/// By what share a round tube of flat sides holds less than the true one: a regular polygon in its circle.
fn share() -> f64 {
    let step = std::f64::consts::TAU / SIDES;
    step.sin() / step
}

fn check(frame: &Frame) {
    let (files, _) = frame.written(&["glb"]);
    let read = python("read_models.py", &files);
    let subject = frame.subject();
    let made = subject.made;
    let mut wrong = Vec::new();
    for part in &made.parts {
        let member = &made.frame.members[part.member];
        let seen = &read[&member.id];
        let is_round = matches!(made.frame.section(member).size(), SectionSize::Round { .. });
        let wanted = part.volume * if is_round { share() } else { 1.0 };
        let ratio = figure(&seen["volume"]) / wanted - 1.0;
        // A wall that misses its target is drawn up to the furthest point of the cut.
        let misses = part.ends.iter().any(|end| !end.missed.is_empty());
        if seen["closed"] != true || ratio.abs() > if misses { 0.02 } else { 0.003 } {
            wrong.push(format!("{}: {ratio:.5}, {seen}", member.id));
        }
        // glTF: y up, z forward, so that x is to the left; metres there, mm here.
        let [left, up, forward] = figures(&seen["centre"]);
        let apart = DVec3::new(forward, left, up).distance(part.centre(member));
        if apart > if misses { 5.0 } else { 0.5 } {
            wrong.push(format!("{}: {apart} mm off its place", member.id));
        }
    }
    for placed in &made.frame.plates {
        let seen = &read[&placed.id];
        let ratio = figure(&seen["volume"]) / placed.volume() - 1.0;
        if seen["closed"] != true || ratio.abs() > 0.003 {
            wrong.push(format!("{}: {ratio:.5}, {seen}", placed.id));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_part_of_the_demo_is_closed_and_has_its_volume_in_its_place() {
    check(&DEMO);
}

#[test]
fn so_have_bends_holes_plates_and_rectangular_tubes() {
    check(&BENCH);
}
