//! Frames whose files are read back: the demo, and a bench frame with what the demo lacks.

use matchmark_core::{Evaluation, Stop, evaluate};
use matchmark_export::{Facts, Subject, files, write_file};
use serde_json::json;
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// A numbered frame and what is told of it.
pub struct Frame {
    pub evaluation: Evaluation,
    pub facts: Facts,
}

/// The demo as it is published.
pub static DEMO: LazyLock<Frame> = LazyLock::new(|| frame(include_str!("../../server/demo/rev_b.json")));

/// Plates with arcs, holes and countersinks, a rectangular tube, holes that meet round a tube, an end that misses part of its target.
pub static BENCH: LazyLock<Frame> = LazyLock::new(|| {
    let document = json!({
        "format": "matchmark-design/1", "name": "Bench \u{d8} frame",
        "materials": {"cds": {"name": "=Cold drawn, \"seamless\"", "density": 7850}},
        "sections": {
            "hoop": {"round": {"od": 45, "wall": 2.5}, "material": "cds"},
            "brace": {"round": {"od": 30, "wall": 2}, "material": "cds"},
            "rail": {"rect": {"width": 60, "height": 40, "wall": 3, "corner": 6}, "material": "cds"},
        },
        "points": {},
        "members": [
            {"id": "sill", "section": "hoop", "from": [-600, 0, 0], "to": [600, 0, 0], "ends": {"from": "square", "to": "square"}},
            {"id": "hoop", "section": "hoop", "path": [[0, 0, 0], [0, 60, 400], [0, 300, 600], [150, 600, 600], [150, 800, 0]], "radius": 150,
             "ends": {"to": "square"}},
            {"id": "rail", "section": "rail", "from": [-600, -500, 0], "to": [600, -500, 0], "ends": {"from": {"mitre": {"normal": [-1, 1, 0]}}, "to": "square"}},
            {"id": "tie", "section": "brace", "from": [-100, -500, 0], "to": [-100, 0, 0]},
            {"id": "tie_again", "section": "brace", "from": [200, 0, 0], "to": [200, -500, 0]},
            {"id": "stay", "section": "brace", "from": [300, 0, 300], "to": [0, 5, 30], "ends": {"from": "square"}},
        ],
        "plates": {
            "foot": {"outline": [[-20, -60], {"at": [60, -60], "round": 15}, {"at": [60, 60], "round": 25}, [-20, 60], {"through": [-45, 0], "to": [-20, -60]}],
                "thickness": 5, "material": "cds", "holes": [{"at": [20, -30], "diameter": 11}, {"at": [20, 30], "diameter": 6.5, "countersink": 12}],
                "place": {"at": [1000, 0, 0], "normal": [0, 0.6, 0.8], "along": [1, 0, 0]}},
            "ear.L": {"outline": [[0, 0], [50, 0], [0, 30]], "thickness": 3, "material": "cds", "mirror": true, "holes": [{"at": [12, 9], "diameter": 8, "countersink": 14}],
                "place": {"at": [0, 900, 0], "normal": [0, 1, 0], "along": [1, 0, 0]}},
        },
        "holes": {
            "bolt": {"member": "sill", "station": 200, "clock": 40, "diameter": 12, "both_walls": true},
            "drain": {"member": "sill", "station": 900, "clock": 180, "diameter": 6},
            "beside": {"member": "sill", "station": 906, "clock": 60, "diameter": 10},
            "wide": {"member": "sill", "station": 700, "clock": 95, "diameter": 36},
            "lug": {"member": "rail", "station": 400, "clock": 90, "offset": 8, "diameter": 11, "both_walls": true},
        },
    });
    frame(&document.to_string())
});

fn frame(document: &str) -> Frame {
    let mut evaluation = evaluate(document);
    evaluation.number(None);
    assert!(evaluation.sheets.is_some(), "{:?}", evaluation.findings);
    let facts = Facts {
        supplier: "Bench Works".to_owned(),
        design: evaluation.name.clone(),
        revision: "B".to_owned(),
        date: "2026-11-25".to_owned(),
        kit: "QF-0101".to_owned(),
        kit_facts: vec!["floor=steel".to_owned()],
        design_sha256: evaluation.sha256.clone().unwrap_or_default(),
        address: "https://packs.example/kits/QF-0101".to_owned(),
    };
    Frame { evaluation, facts }
}

impl Frame {
    pub fn subject(&self) -> Subject<'_> {
        Subject::of(&self.evaluation, &self.facts).unwrap()
    }

    /// The files of some formats by their names, and why others are not there.
    pub fn written(&self, formats: &[&str]) -> (BTreeMap<String, Vec<u8>>, Vec<String>) {
        let subject = self.subject();
        let (mut written, mut left_out) = (BTreeMap::new(), Vec::new());
        for file in files(&subject).into_iter().filter(|file| formats.contains(&file.format)) {
            match write_file(&subject, &file.name, Stop::NEVER) {
                Ok(bytes) => {
                    assert!(written.insert(file.name.clone(), bytes).is_none(), "{} is there twice", file.name);
                }
                Err(error) if error.is_of_the_part() => left_out.push(format!("{}: {}", file.name, error.code())),
                Err(error) => panic!("{}: {error}", file.name),
            }
        }
        (written, left_out)
    }
}
