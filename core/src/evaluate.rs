//! The whole way from a document's text to its sheets.

use crate::document::{self, Finding};
use crate::frame::Frame;
use crate::part::Part;
use crate::sheets::Sheets;

/// What a document's text comes to.
#[derive(Debug, Clone)]
pub struct Evaluation {
    /// The design's name as written; empty when it could not be read.
    pub name: String,
    /// All findings, errors first, then in the order of the document.
    pub findings: Vec<Finding>,
    /// Canonical JSON (RFC 8785) of the document; `None` when the text is not JSON.
    pub canonical: Option<String>,
    /// SHA-256 of the canonical JSON in lower-case hex; `None` when the text is not JSON.
    pub sha256: Option<String>,
    /// The sheets; `None` when an error stands in the way.
    pub sheets: Option<Sheets>,
}

/// Reads a design document and computes its sheets.
///
/// ```
/// let text = r#"{
///     "format": "matchmark-design/1", "name": "A tee",
///     "materials": {"steel": {"name": "S235", "density": 7850}},
///     "sections": {"tube": {"round": {"od": 50, "wall": 2}, "material": "steel"}},
///     "points": {"left": [0, 500, 0], "right": [0, -500, 0], "middle": [0, 0, 0], "top": [0, 0, 400]},
///     "members": [
///         {"id": "sill", "section": "tube", "from": "left", "to": "right", "ends": {"from": "square", "to": "square"}},
///         {"id": "post", "section": "tube", "from": "middle", "to": "top", "ends": {"to": "square"}}
///     ]
/// }"#;
/// let sheets = matchmark_core::evaluate(text).sheets.expect("no errors");
/// // The post's cope leaves its longest point on the sill's axis: equal tubes meet in a full saddle.
/// assert!((sheets.cut_sheet.rows[1].overall - 400.0).abs() < 1e-6);
/// assert!((sheets.cut_sheet.rows[1].short - 375.0).abs() < 1e-6);
/// ```
#[must_use]
pub fn evaluate(text: &str) -> Evaluation {
    let document::Reading { design, canonical, mut findings } = document::read(text);
    let mut sheets = None;
    if let Some(design) = design.as_ref().filter(|_| !findings.has_errors()) {
        let frame = Frame::of(design, &mut findings);
        let parts: Vec<Part> = (0..frame.members.len()).map(|member| Part::of(&frame, member, &mut findings)).collect();
        if !findings.has_errors() {
            sheets = Some(Sheets::of(&frame, &parts));
        }
    }
    let (canonical, sha256) = canonical.map(|canonical| (canonical.text, canonical.sha256)).unzip();
    Evaluation {
        name: design.map_or_else(String::new, |design| design.name.as_str().to_owned()),
        findings: findings.into_sorted(),
        canonical,
        sha256,
        sheets,
    }
}
