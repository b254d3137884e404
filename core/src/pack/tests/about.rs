//! Everything that a supplier can write in words reaches paper, and zero is found from named tubes.

use super::{demo_sheets, document, measured_sheets};
use crate::pack::fixture::issue;
use crate::pack::*;
use serde_json::{Value, json};

fn all_words(document: &Document) -> String {
    let texts = document.pages.iter().flat_map(|page| page.drawing.texts());
    texts.map(|text| text.content.as_str()).collect::<Vec<_>>().join(" ")
}

fn words_of(document: &Document, title: &str) -> String {
    let texts = document.pages.iter().filter(|page| page.title == title).flat_map(|page| page.drawing.texts());
    texts.map(|text| text.content.as_str()).collect::<Vec<_>>().join(" ")
}

/// A frame with words in every field that takes some.
fn document_of_words() -> Value {
    json!({
        "format": "matchmark-design/1", "name": "Namesaid", "description": "Descriptionsaid",
        "notes": ["Notesaid", "Othernotesaid"], "base": -30, "tolerance": "C", "part_prefix": "ZQ",
        "materials": {"steel": {"name": "Materialsaid", "density": 7850, "tensile": 437}},
        "sections": {"tube": {"round": {"od": 50, "wall": 2}, "material": "steel", "springback": 2.3, "clamp": 61}},
        "stock": [{"section": "tube", "lengths": [6000], "kerf": 1.7, "trim": 6, "min_remnant": 433}],
        "points": {"left": [0, 500, 0], "right": [0, -500, 0], "middle": [0, 0, 0], "top": [0, 0, 400],
                   "a.L": [300, 300, 0], "b.L": [700, 300, 0], "c.L": [700, 300, 500]},
        "members": [
            {"id": "sill", "section": "tube", "from": "left", "to": "right", "note": "Membersaid",
             "ends": {"from": "square", "to": "square"}, "roll_structure": "brace"},
            {"id": "post", "section": "tube", "from": "middle", "to": "top", "gap": 0.7, "ends": {"to": "square"}},
            {"id": "bow.L", "section": "tube", "path": ["a.L", "b.L", "c.L"], "radius": 150, "mirror": true,
             "ends": {"from": "square", "to": "square"}}
        ],
        "plates": {"pad": {"thickness": 3, "material": "steel", "note": "Platesaid", "outline": [[-30, -20], [30, -20], [30, 20], [-30, 20]],
                           "place": {"on": "sill", "station": 250, "clock": 90}}},
        "holes": {"drain": {"member": "sill", "station": 100, "clock": 0, "diameter": 8, "note": "Holesaid"}},
        "gauges": {"spread": {"what": "Gaugesaid", "nominal": 1000, "least": 991, "most": 1009, "moves": {"left": [0, 0.5, 0]}}},
        "checks": {"width": {"what": "Checksaid", "between": ["left", "right"]}},
        "steps": [{"what": "Stepsaid", "after": "sill", "checks": ["width"]}],
        "options": {"side": {"what": "Optionsaid", "choices": ["starboard", "port"]}}
    })
}

#[test]
fn every_word_of_the_document_reaches_paper() {
    let mut evaluation = crate::evaluate(&document_of_words().to_string());
    evaluation.number(None);
    let findings = evaluation.findings.clone();
    let sheets = evaluation.sheets.unwrap_or_else(|| panic!("{findings:?}"));
    let document = document(&sheets, &Issue { design: evaluation.name, ..issue(Paper::A4, Status::Issued) });
    let document = document.expect("renders").0;
    let said = all_words(&document);
    for word in [
        "Namesaid",
        "Descriptionsaid",
        "Notesaid",
        "Othernotesaid",
        "Materialsaid",
        "Membersaid",
        "Platesaid",
        "Holesaid",
        "Gaugesaid",
        "Checksaid",
        "Stepsaid",
        "Optionsaid",
        "starboard",
        "991 to 1009",
        "437",
        "61",
        "2.3",
        "ZQ101-1",
        "kerf of 1.70 mm",
        "433 mm",
        "root gap 0.7 mm",
    ] {
        assert!(said.contains(word), "{word}");
    }
    let about = words_of(&document, "Frame, notes and zero");
    for words in ["Notesaid", "z = -30.0, 30.0 mm below zero", "brace sill", "Choices of this kit"] {
        assert!(about.contains(words), "{words}: {about}");
    }
    // The pad lies 250 mm from the sill's square from end, on its side at 90 degrees, and looks where that side looks.
    let plates = words_of(&document, "Plate pad");
    assert!(
        plates.contains("250.0 mm along that tube from the long point of the cut at end 1, on the side at 90.0 deg"),
        "{plates}"
    );
}

/// The demo's document says that its main hoop stands upright at x = 0 and that the bed lies 4 mm below zero.
#[test]
fn zero_is_found_from_named_tubes() {
    let document = document(&demo_sheets(), &issue(Paper::A4, Status::Issued)).expect("renders").0;
    let about = words_of(&document, "Frame, notes and zero");
    for words in [
        "x = 0 at end 1 of main_hoop",
        "y = 0 halfway between end ",
        "z = 0 at end 1 of main_hoop",
        "base plane at z = -4.0, 4.0 mm below zero: the level bed on which the frame is built",
        "x forward",
        "y left",
        "z up",
    ] {
        assert!(about.contains(words), "{words}: {about}");
    }
    for title in ["Fit-up order", "Jig sheet main_hoop", "Cut sheet"] {
        assert!(words_of(&document, title).contains("see the page \"Frame, notes and zero\""), "{title}");
    }
}

#[test]
fn what_was_measured_stands_beside_what_was_drawn() {
    let document = document(&measured_sheets(), &issue(Paper::A4, Status::Issued)).expect("renders").0;
    let about = words_of(&document, "Frame, notes and zero");
    assert!(about.contains("1120 1112 to 1132 1124"), "{about}");
}
