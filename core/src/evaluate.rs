//! The whole way from a document's text to its sheets.

use crate::document::Finding;
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
#[must_use]
pub fn evaluate(_text: &str) -> Evaluation {
    Evaluation {
        name: String::new(),
        findings: Vec::new(),
        canonical: None,
        sha256: None,
        sheets: None,
    }
}
