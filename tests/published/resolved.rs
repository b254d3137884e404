//! Whole frames whose open ends are decided by rule: no wall may miss, whatever options, measured values, gaps, hands and plates they
//! have, and what is decided stays over a second look and over a revision.

use crate::document::document;
use matchmark_core::document::{Finding, OneKit, Severity};
use matchmark_core::nodes::{Resolution, resolve};
use matchmark_core::{check_all_choices, evaluate, evaluate_for};
use serde_json::{Value, json};
use std::collections::BTreeMap;

#[allow(dead_code, reason = "benches take the other one too")]
#[path = "../../core/benches/support/lattice.rs"]
pub mod lattice;

/// What says that a wall passes what it is fitted to, goes into an open end, or shares space with another tube.
fn is_bad(finding: &&Finding) -> bool {
    let is_missing = finding.code.starts_with("cope-") && finding.code != "cope-gap-small";
    finding.severity == Severity::Error
        || is_missing
        || ["target-not-met", "clash", "order-against-size"].contains(&finding.code.as_str())
}

fn bad(findings: &[Finding]) -> Vec<String> {
    findings.iter().filter(is_bad).map(|finding| format!("{}: {}", finding.code, finding.message)).collect()
}

/// The frame with its ends, in which no joint is open.
fn closed(document: &Value) -> (Value, Resolution) {
    let resolution = resolve(&document.to_string());
    assert_eq!(bad(&resolution.findings), Vec::<String>::new());
    let written = resolution.document.clone().unwrap();
    assert_eq!(bad(&evaluate(&written).findings), Vec::<String>::new());
    // Whatever is decided is decided once.
    assert_eq!(resolve(&written).document.as_ref(), Some(&written));
    (serde_json::from_str(&written).unwrap(), resolution)
}

fn member<'a>(document: &'a Value, id: &str) -> &'a Value {
    document["members"].as_array().unwrap().iter().find(|member| member["id"] == id).unwrap()
}

/// A kit-car frame: what its straight round tubes say of their ends is taken out, but for plugs.
#[test]
fn the_demo_without_the_ends_of_its_straight_tubes_has_no_open_joint() {
    for original in [include_str!("../../server/demo/rev_a.json"), include_str!("../../server/demo/rev_b.json")] {
        let mut demo: Value = serde_json::from_str(original).unwrap();
        let sections = demo["sections"].clone();
        let mut taken_out = 0;
        for member in demo["members"].as_array_mut().unwrap() {
            let is_round = sections[member["section"].as_str().unwrap()].get("round").is_some();
            let is_plug = member.pointer("/ends/from/plug").is_some();
            if is_round && !is_plug && member.get("path").is_none() {
                taken_out += member.as_object_mut().unwrap().remove("ends").map_or(0, |_| 1);
            }
        }
        assert!(taken_out >= 15, "{taken_out}");
        let (written, _) = closed(&demo);
        let text = written.to_string();
        assert_eq!(bad(&check_all_choices(&text)), Vec::<String>::new());
        let measured = BTreeMap::from([("hoop_spread".to_owned(), 1126.0), ("hoop_height".to_owned(), 1203.0)]);
        let kit = OneKit { measured, ..OneKit::default() };
        // A wide hoop brings a rail and a sill together whoever cut them.
        assert_eq!(bad(&evaluate_for(&text, &kit).findings), bad(&evaluate_for(original, &kit).findings));
    }
}

#[test]
fn a_lattice_of_two_thousand_equal_tubes_closes_everywhere() {
    let text = lattice::badly_fitting(2_000);
    let resolution = resolve(&text);
    let found = evaluate(&resolution.document.unwrap()).findings;
    let is_cope = |finding: &&Finding| finding.severity == Severity::Error || finding.code.starts_with("cope-");
    let found: Vec<&Finding> = resolution.findings.iter().chain(&found).filter(is_cope).collect();
    assert!(found.is_empty(), "{found:?}");
}

fn tube(id: &str, from: [f64; 3], to: [f64; 3]) -> Value {
    json!({"id": id, "section": "brace", "from": from, "to": to, "ends": {"to": "square"}})
}

fn tripod() -> Value {
    document(json!({"members": [
        tube("a", [0.0, 0.0, 500.0], [300.0, 40.0, 0.0]),
        tube("b", [0.0, 0.0, 500.0], [-200.0, 260.0, 0.0]),
        tube("c", [0.0, 0.0, 500.0], [-180.0, -270.0, 0.0]),
    ]}))
}

#[test]
fn root_gaps_leave_nothing_open() {
    let mut frame = tripod();
    for member in frame["members"].as_array_mut().unwrap() {
        member["gap"] = json!(1.5);
    }
    closed(&frame);
}

#[test]
fn a_member_of_one_choice_leaves_the_ends_of_all_kits_as_they_are() {
    let mut frame = document(json!({
        "members": [
            {"id": "rail", "section": "hoop", "from": [-300, 0, 0], "to": [300, 0, 0], "ends": {"from": "square", "to": "square"}},
            tube("post", [0.0, 0.0, 0.0], [0.0, 0.0, 400.0]),
        ],
        "options": {"brace": {"what": "Brace", "choices": ["none", "fitted"]}},
    }));
    let (without, _) = closed(&frame);
    let mut brace = tube("brace", [100.0, 0.0, 0.0], [100.0, 300.0, 300.0]);
    brace["when"] = json!({"brace": "fitted"});
    frame["members"].as_array_mut().unwrap().push(brace);
    let (with, _) = closed(&frame);
    assert_eq!(member(&without, "post"), member(&with, "post"));
    assert_eq!(bad(&check_all_choices(&with.to_string())), Vec::<String>::new());
}

/// Tubes that are there under different choices have no one answer: that is said, and nothing is decided.
#[test]
fn tubes_of_different_choices_at_one_point_are_left_open() {
    let mut frame = tripod();
    frame["options"] = json!({"leg": {"what": "Leg", "choices": ["fitted", "none"]}});
    frame["members"][2]["when"] = json!({"leg": "fitted"});
    let resolution = resolve(&frame.to_string());
    assert_eq!(resolution.findings[0].code, "node-with-choices");
    let written: Value = serde_json::from_str(&resolution.document.unwrap()).unwrap();
    assert!(written["members"].as_array().unwrap().iter().all(|member| member["ends"].get("from").is_none()));
}

#[test]
fn measured_values_move_what_is_decided_with_them() {
    let mut frame = tripod();
    for member in frame["members"].as_array_mut().unwrap() {
        member["from"] = json!("top");
    }
    frame["points"] = json!({"top": [0, 0, 500]});
    frame["gauges"] =
        json!({"height": {"what": "Height", "nominal": 500, "least": 480, "most": 520, "moves": {"top": [0, 0, 1]}}});
    let (written, _) = closed(&frame);
    for height in [481.0, 519.0] {
        let kit = OneKit { measured: BTreeMap::from([("height".to_owned(), height)]), ..OneKit::default() };
        assert_eq!(bad(&evaluate_for(&written.to_string(), &kit).findings), Vec::<String>::new());
    }
}

/// A tube drawn to a point on a plate stands on it, and one drawn into the bend of a hoop is fitted to that.
#[test]
fn plates_and_bends_are_fitted_to() {
    let frame = document(json!({
        "members": [
            {"id": "hoop", "section": "hoop", "path": [[0, -300, 0], [0, -300, 600], [0, 300, 600], [0, 300, 0]], "radius": 150, "ends": {"from": "square", "to": "square"}},
            // The middle of the bend: 300 less the part of 150 that it lies inside its corner.
            tube("stay", [0.0, 256.066, 556.066], [400.0, 256.066, 556.066]),
            tube("post", [900.0, 0.0, 0.0], [900.0, 0.0, 400.0]),
        ],
        "plates": {"foot": {
            "thickness": 4, "material": "steel", "outline": [[-60, -60], [60, -60], [60, 60], [-60, 60]],
            "place": {"at": [900, 0, -4], "normal": [0, 0, 1], "along": [1, 0, 0]},
        }},
    }));
    let (written, _) = closed(&frame);
    assert_eq!(member(&written, "stay")["ends"]["from"], json!({"cope": ["hoop"]}));
    assert_eq!(member(&written, "post")["ends"]["from"], json!({"cope": ["foot"]}));
}

/// What was decided for one revision stands in the next: a tube that is added is fitted to it.
#[test]
fn a_revision_keeps_what_was_decided() {
    let (mut written, _) = closed(&tripod());
    let before = written["members"].clone();
    written["members"].as_array_mut().unwrap().push(tube("d", [0.0, 0.0, 500.0], [320.0, -300.0, 100.0]));
    let (after, _) = closed(&written);
    assert_eq!(&after["members"].as_array().unwrap()[..3], &before.as_array().unwrap()[..]);
    assert!(after["members"][3]["ends"]["from"]["cope"].as_array().unwrap().len() >= 2);
}

/// The second hand of a mirrored tube is cut as the mirror image of the first, and a document that draws both gets the same.
#[test]
fn mirrored_tubes_are_cut_as_mirror_images() {
    let rail = json!({"id": "rail", "section": "hoop", "from": [-400, 0, 300], "to": [400, 0, 300], "ends": {"from": "square", "to": "square"}});
    let strut = |id: &str, y: f64| tube(id, [0.0, 0.0, 300.0], [60.0, y, 0.0]);
    let mut mirrored = strut("strut.L", 250.0);
    mirrored["mirror"] = json!(true);
    let (short, _) = closed(&document(json!({"members": [rail, mirrored]})));
    let (long, _) = closed(&document(json!({"members": [rail, strut("strut.L", 250.0), strut("strut.R", -250.0)]})));
    assert_eq!(member(&short, "strut.L")["ends"], member(&long, "strut.L")["ends"]);
    assert_eq!(member(&long, "strut.L")["ends"]["from"]["cope"], json!(["rail"]));
}
