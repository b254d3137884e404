//! Views with hidden lines left out, held against hidden-line removal by the kernel on the same parts as exact solids.

use matchmark_core::evaluate;
use matchmark_core::solid::SolidHeading;
use matchmark_core::view::{Curve, Look, Scene};
use serde::Deserialize;
use serde_json::{Value, json};
use std::process::Command;

/// How much of one side's lines lies on the other's, and some places that do not.
type Share = (f64, Vec<[f64; 2]>);

#[derive(Deserialize)]
struct Compared {
    ours: Share,
    theirs: Share,
    lines: [usize; 2],
}

fn document(members: Value) -> String {
    json!({
        "format": "matchmark-design/1", "name": "Bench frame",
        "materials": {"cds": {"name": "Cold drawn seamless", "density": 7850}},
        "sections": {
            "hoop": {"round": {"od": 45, "wall": 2.5}, "material": "cds"},
            "brace": {"round": {"od": 30, "wall": 2}, "material": "cds"},
            "box": {"rect": {"width": 40, "height": 60, "wall": 3, "corner": 3}, "material": "cds"},
        },
        "points": {}, "members": members,
    })
    .to_string()
}

/// Compares views of all members of a document.
fn compare(text: &str, views: &[&str]) -> Vec<Compared> {
    let evaluation = evaluate(text);
    let made = evaluation.made.as_ref().unwrap_or_else(|| panic!("{:?}", evaluation.findings));
    let folder = tempfile::tempdir().unwrap();
    let mut parts = Vec::new();
    for member in &made.frame.members {
        let heading = SolidHeading {
            part: member.id.clone(),
            description: "Bench frame".into(),
            organization: "Bench Works".into(),
            date: "2026-11-25".into(),
        };
        let solid = evaluation.solid_step(&member.id, &heading).unwrap();
        std::fs::write(folder.path().join(format!("{}.step", member.id)), solid).unwrap();
        let leg = member.path.first();
        let place = [leg.start, leg.direction, member.index.cross(leg.direction), member.index];
        parts.push(json!({"name": member.id, "place": place.map(|axis| axis.to_array())}));
    }
    let scene = Scene::of(made);
    let views: Vec<Value> = views
        .iter()
        .map(|name| {
            let look = Look::named(name).unwrap();
            let seen = scene.seen(&look, 1.0);
            // The kernel has no line where two surfaces go over into one another.
            let drawn = seen.when(seen.parts).filter(|run| run.curve != Curve::Corner);
            let lines: Vec<_> = drawn.map(|run| &run.points).collect();
            json!({"right": look.right.to_array(), "up": look.up.to_array(), "towards": look.towards.to_array(), "lines": lines})
        })
        .collect();
    std::fs::write(folder.path().join("scene.json"), json!({"parts": parts, "views": views}).to_string()).unwrap();
    let python = std::env::var("MATCHMARK_PYTHON").unwrap_or_else(|_| "python3".into());
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/solid/hidden_lines.py");
    let output = Command::new(python).arg(script).arg(folder.path()).output().expect("Python runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

/// The bores of open ends are left white in our views, so that a little of what the kernel shows is not ours. Where it looks along an
/// axis of a cope it draws some of its curves as chords, so most views are slanted.
fn check(text: &str, views: &[&str]) {
    for (compared, view) in compare(text, views).iter().zip(views) {
        let Compared { ours, theirs, lines } = compared;
        println!("{view}: {:.4} of ours, {:.4} of theirs, {lines:?} lines", ours.0, theirs.0);
        assert!(ours.0 > 0.998, "{view}: {} of our lines lie on the kernel's; not those at {:?}", ours.0, ours.1);
        assert!(theirs.0 > 0.98, "{view}: {} of the kernel's lines lie on ours; not those at {:?}", theirs.0, theirs.1);
    }
}

#[test]
fn crossing_and_coped_tubes_are_seen_as_the_kernel_sees_them() {
    let text = document(json!([
        {"id": "sill", "section": "hoop", "from": [-400, 0, 0], "to": [400, 0, 0], "ends": {"from": "square", "to": "square"}},
        {"id": "post", "section": "hoop", "from": [0, 0, 0], "to": [40, 30, 400], "ends": {"to": "square"}, "gap": 0.2},
        {"id": "brace", "section": "brace", "from": [250, 0, 0], "to": [30, 20, 300], "gap": 0.2},
        {"id": "aside", "section": "brace", "from": [-300, -150, 120], "to": [300, -120, 200], "ends": {"from": "square", "to": "square"}},
    ]));
    check(&text, &["front", "0.3,-1,0.4", "-1,0.6,-0.3"]);
}

#[test]
fn bends_are_seen_as_the_kernel_sees_them() {
    let text = document(json!([
        {"id": "hoop", "section": "hoop", "path": [[0, 400, 0], [0, 330, 700], [0, -330, 700], [0, -400, 0]], "radius": 150,
         "ends": {"from": "square", "to": "square"}},
        {"id": "stay", "section": "brace", "from": [0, 350, 500], "to": [-500, 250, 0], "ends": {"to": "square"}, "gap": 0.2},
    ]));
    check(&text, &["front", "pictorial", "1,0.1,-0.4"]);
}

#[test]
fn rectangular_tubes_and_mitres_are_seen_as_the_kernel_sees_them() {
    let text = document(json!([
        {"id": "rail", "section": "box", "from": [0, 0, 0], "to": [500, 0, 0], "ends": {"from": "square", "to": {"mitre": {"normal": [1, -1, 0]}}}},
        {"id": "post", "section": "box", "from": [200, 0, 0], "to": [150, 0, 300], "ends": {"to": "square"}, "gap": 0.2},
        {"id": "tie", "section": "brace", "from": [175, 0, 150], "to": [400, 0, 0], "gap": 0.2},
    ]));
    check(&text, &["0.5,1,0.6", "0.9,0.7,-0.2"]);
}
