//! Our own files read in again give the frame that they came from.

use crate::cases::judged;
use matchmark_core::{Stop, evaluate};
use matchmark_export::{Facts, Subject, files, write_file};
use matchmark_import::{SourceFile, import_text};
use serde_json::{Value, json};

/// Ends square and clear of each other, so that each tube is as long as its centreline.
fn frame() -> Value {
    json!({
        "format": "matchmark-design/1", "name": "Cart",
        "materials": {"cds": {"name": "Cold drawn steel", "density": 7850}},
        "sections": {
            "hoop": {"round": {"od": 44.5, "wall": 2.6}, "material": "cds"},
            "brace": {"round": {"od": 30, "wall": 2}, "material": "cds"},
            "rail": {"rect": {"width": 60, "height": 40, "wall": 3, "corner": 6}, "material": "cds"},
        },
        "points": {"sill.L": [-600, 300, 20], "nose.L": [550, 270, 35]},
        "members": [
            {"id": "sill.L", "section": "brace", "from": "sill.L", "to": "nose.L", "mirror": true, "ends": {"from": "square", "to": "square"}},
            {"id": "hoop", "section": "hoop", "radius": 140, "path": [[0, 500, 100], [0, 460, 900], [0, -460, 900], [0, -500, 100]],
             "ends": {"from": "square", "to": "square"}},
            {"id": "stay.L", "section": "brace", "radius": 90, "mirror": true, "path": [[-80, 390, 700], [-500, 350, 500], [-900, 600, 500]],
             "ends": {"from": "square", "to": "square"}},
            {"id": "rail", "section": "rail", "roll": 30, "from": [-600, 0, -200], "to": [600, 10, -200], "ends": {"from": "square", "to": "square"}},
        ],
    })
}

/// What is true of the tubes, as the cases tell it, hand-computed but for the mirrored ones.
fn truth(frame: &Value) -> Value {
    let at = |reference: &Value| -> [f64; 3] {
        let own = reference.as_str().map_or(reference, |name| &frame["points"][name]);
        serde_json::from_value(own.clone()).unwrap()
    };
    let mut tubes = Vec::new();
    for member in frame["members"].as_array().unwrap() {
        let path: Vec<[f64; 3]> = match member["path"].as_array() {
            Some(path) => path.iter().map(at).collect(),
            None => vec![at(&member["from"]), at(&member["to"])],
        };
        let (id, size) = (member["id"].as_str().unwrap(), &frame["sections"][member["section"].as_str().unwrap()]);
        let other = id.replace(".L", ".R");
        let mut write = |id: &str, path: &[[f64; 3]], partner: Value| {
            let bends: Vec<Value> = path[1..path.len() - 1]
                .iter()
                .map(|corner| json!({"corner": corner, "radius": member["radius"], "angle": 0}))
                .collect();
            tubes.push(json!({"id": id, "section": null, "od": size["round"]["od"], "wall": size["round"]["wall"], "rect": size["rect"],
                "ends": [path[0], path[path.len() - 1]], "bends": bends, "partner": partner}));
        };
        if member["mirror"] == true {
            let mirrored: Vec<[f64; 3]> = path.iter().map(|[x, y, z]| [*x, -y, *z]).collect();
            write(id, &path, json!(other));
            write(&other, &mirrored, json!(id));
        } else {
            write(id, &path, Value::Null);
        }
    }
    json!({"outcome": "tubes", "must_say": [], "tolerance": {"point": 0.001, "radius": 0.001, "size": 0.001}, "tubes": tubes})
}

#[test]
fn the_assembly_that_we_write_is_read_as_the_frame_that_it_came_from() {
    let frame = frame();
    let mut evaluation = evaluate(&frame.to_string());
    evaluation.number(None);
    let facts = Facts {
        supplier: "Bench Works".to_owned(),
        design: evaluation.name.clone(),
        revision: "A".to_owned(),
        date: "2026-11-29".to_owned(),
        kit: String::new(),
        kit_facts: Vec::new(),
        design_sha256: evaluation.sha256.clone().unwrap_or_default(),
        address: String::new(),
    };
    let subject = Subject::of(&evaluation, &facts).unwrap();
    let names: Vec<String> =
        files(&subject).into_iter().filter(|file| file.format == "step").map(|file| file.name).collect();
    let whole = names.iter().find(|name| name.contains("assembly") || name.contains("frame")).expect("an assembly");
    let bytes = write_file(&subject, whole, Stop::NEVER).unwrap();
    let read = import_text(&[SourceFile { name: whole.clone(), bytes }], Some("{}"), None, Stop::NEVER).unwrap();
    let case = tempfile::tempdir().unwrap();
    std::fs::write(case.path().join("expected.json"), truth(&frame).to_string()).unwrap();
    assert_eq!(judged(case.path(), &read, false), "");
    // The rectangular tube is turned as it was.
    let design = read.design.unwrap();
    let rail = design["members"].as_array().unwrap().iter().find(|member| member["roll"].is_number()).unwrap();
    let roll = rail["roll"].as_f64().unwrap();
    // Either end can be the first, and then a turn to the right is one to the left; half a turn changes nothing.
    assert!([30.0, 150.0].iter().any(|own| (roll.rem_euclid(180.0) - own).abs() < 1e-3), "{roll}");
}
