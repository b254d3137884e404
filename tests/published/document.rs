//! Small documents for the tests of this folder.

use matchmark_core::Evaluation;
use matchmark_core::sheets::{CutRow, Sheets};
use serde_json::{Value, json};

/// A document with the usual sections and more of the caller's own on top.
pub fn document(more: Value) -> Value {
    let mut document = json!({
        "format": "matchmark-design/1", "name": "Bench frame",
        "materials": {"steel": {"name": "S235", "density": 7850}},
        "sections": {
            "hoop": {"round": {"od": 45, "wall": 2.5}, "material": "steel"},
            "brace": {"round": {"od": 30, "wall": 2}, "material": "steel"},
            "box": {"rect": {"width": 40, "height": 20, "wall": 2, "corner": 4}, "material": "steel"},
            "square": {"rect": {"width": 25, "height": 25, "wall": 2, "corner": 4}, "material": "steel"},
        },
        "points": {}, "members": [],
    });
    for (name, value) in more.as_object().expect("an object") {
        document[name] = value.clone();
    }
    document
}

/// The evaluation of a document without errors, numbered.
pub fn evaluated(document: &Value) -> Evaluation {
    let mut evaluation = matchmark_core::evaluate(&document.to_string());
    assert!(evaluation.sheets.is_some(), "{:?}", evaluation.findings);
    evaluation.number(None);
    evaluation
}

/// The sheets of a document without errors, numbered.
pub fn sheets(document: &Value) -> Sheets {
    evaluated(document).sheets.expect("no errors")
}

/// A member's row of the cut sheet.
pub fn row<'a>(sheets: &'a Sheets, member: &str) -> &'a CutRow {
    sheets.cut_sheet.rows.iter().find(|row| row.member == member).expect("the member is on the cut sheet")
}

/// Codes of what is found in a document.
pub fn codes(document: &Value) -> Vec<String> {
    matchmark_core::evaluate(&document.to_string()).findings.into_iter().map(|finding| finding.code).collect()
}
