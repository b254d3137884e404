//! Members of whole designs as solids: every kind of end, bends, rectangular tubes, plates and holes.

use super::kernel::{self, Sent};
use matchmark_core::geometry::DVec3;
use matchmark_core::part::Part;
use matchmark_core::solid::{SolidError, SolidHeading};
use matchmark_core::{Evaluation, evaluate};
use serde_json::{Value, json};

fn heading(member: &str) -> SolidHeading {
    SolidHeading {
        part: member.to_owned(),
        description: "Bench frame, revision A".into(),
        organization: "Bench Works".into(),
        date: "2026-11-25".into(),
    }
}

/// A solid with the volume that it should have.
type Weighed = (Sent, f64);

/// Every member of a design that can be a solid, with its volume, and those that cannot.
fn solids(evaluation: &Evaluation) -> (Vec<Weighed>, Vec<(String, SolidError)>) {
    let made = evaluation.made.as_ref().unwrap_or_else(|| panic!("{:?}", evaluation.findings));
    let (mut sent, mut refused) = (Vec::new(), Vec::new());
    for part in &made.parts {
        let member = &made.frame.members[part.member];
        match evaluation.solid_step(&member.id, &heading(&member.id)) {
            Ok(text) => {
                let points = points(part, &member.path, member.index);
                sent.push((Sent { name: member.id.clone(), text, points }, part.volume));
            }
            Err(error) => refused.push((member.id.clone(), error)),
        }
    }
    (sent, refused)
}

fn points(part: &Part, path: &matchmark_core::geometry::Path, index: DVec3) -> Vec<DVec3> {
    kernel::points_of_cuts(path, index, [&part.ends[0].cut, &part.ends[1].cut])
}

fn check(sent: Vec<Weighed>) {
    let (sent, volumes): (Vec<Sent>, Vec<f64>) = sent.into_iter().unzip();
    let seen = kernel::look(&sent);
    let faults: Vec<String> = sent
        .iter()
        .zip(volumes)
        .flat_map(|(sent, volume)| kernel::faults(&sent.name, &seen[&sent.name], volume))
        .collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

fn design(points: Value, members: Value, rest: Value) -> Evaluation {
    let mut document = json!({
        "format": "matchmark-design/1", "name": "Bench frame",
        "materials": {"cds": {"name": "Cold drawn seamless", "density": 7850}},
        "sections": {
            "hoop": {"round": {"od": 45, "wall": 2.5}, "material": "cds"},
            "brace": {"round": {"od": 30, "wall": 2}, "material": "cds"},
            "box": {"rect": {"width": 30, "height": 50, "wall": 2.5, "corner": 5}, "material": "cds"},
            "bar": {"rect": {"width": 30, "height": 20, "wall": 2, "corner": 2}, "material": "cds"},
            "rail": {"rect": {"width": 60, "height": 60, "wall": 3, "corner": 6}, "material": "cds"},
        },
        "points": points, "members": members,
    });
    for (name, value) in rest.as_object().unwrap() {
        document[name] = value.clone();
    }
    evaluate(&document.to_string())
}

#[test]
fn every_kind_of_member_is_a_valid_solid_of_its_own_volume() {
    let evaluation = design(
        json!({}),
        json!([
            {"id": "sill", "section": "hoop", "from": [-600, 0, 0], "to": [600, 0, 0], "ends": {"from": "square", "to": "square"}},
            {"id": "hoop", "section": "hoop", "path": [[0, 0, 0], [0, 60, 400], [0, 300, 600], [150, 600, 600], [150, 800, 0]], "radius": 150,
             "ends": {"to": "square"}},
            {"id": "node", "section": "brace", "from": [300, 0, 300], "to": [0, 5, 30], "ends": {"from": "square"}},
            {"id": "arch", "section": "hoop", "path": [[-1500, 0, 0], [-1500, 0, 500], [-1500, 400, 500], [-1500, 400, 0]], "radius": 150,
             "ends": {"from": "square", "to": "square"}},
            {"id": "on_bend", "section": "brace", "from": [-1800, 20, 520], "to": [-1500, 44, 456], "ends": {"from": {"mitre": {"normal": [-1, 0.4, 0.2]}}}},
            {"id": "rail", "section": "rail", "from": [-600, -500, 0], "to": [600, -500, 0], "ends": {"from": {"mitre": {"normal": [-1, 1, 0]}}, "to": "square"}},
            {"id": "post", "section": "box", "from": [-300, -500, 0], "to": [-250, -480, 500], "roll": 20, "ends": {"to": {"mitre": {"normal": [0.3, 0.2, 1]}}}},
            {"id": "brace_on_rail", "section": "hoop", "from": [200, -500, 10], "to": [300, -440, 400], "ends": {"to": "square"}},
            {"id": "tie", "section": "bar", "from": [-100, -500, 0], "to": [-100, 0, 0], "gap": 0.5},
            {"id": "flush", "section": "box", "from": [-500, -500, 0], "to": [-500, -200, 0], "ends": {"to": "square"}},
            {"id": "stub", "section": "brace", "from": [1000, 0, 5], "to": [1000, 0, 300], "ends": {"from": {"cope": ["foot"]}, "to": "square"}},
        ]),
        json!({
            "plates": {"foot": {"outline": [[-20, -60], [60, -60], [60, 60], [-20, 60]], "thickness": 5, "material": "cds",
                "place": {"at": [1000, 0, 0], "normal": [0, 0, 1], "along": [1, 0, 0]}}},
            "holes": {
                "bolt": {"member": "sill", "station": 200, "clock": 40, "diameter": 12, "both_walls": true},
                "drain": {"member": "sill", "station": 900, "clock": 180, "diameter": 6},
                "wide": {"member": "sill", "station": 700, "clock": 95, "diameter": 36},
                "lug": {"member": "rail", "station": 400, "clock": 90, "offset": 8, "diameter": 14, "both_walls": true},
                "hoop_hole": {"member": "hoop", "station": 120, "clock": 10, "diameter": 9},
            },
        }),
    );
    let (sent, refused) = solids(&evaluation);
    assert_eq!(refused, [], "{:?}", evaluation.findings);
    check(sent);
}

#[test]
fn every_member_of_the_demo_is_a_valid_solid_or_says_why_not() {
    let (sent, refused) = solids(&evaluate(include_str!("../../server/demo/rev_b.json")));
    assert!(sent.len() > 60, "{refused:?}");
    assert!(refused.iter().all(|(_, error)| *error == SolidError::Misses), "{refused:?}");
    check(sent);
}
