//! What reading or computing a design found: one sentence each, with a stable code and the place.

use super::place::JsonPlace;
use serde::{Deserialize, Serialize};
use std::fmt::Display;

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Stops publishing.
    Error,
    /// Must be read and acknowledged before publishing.
    Warning,
    /// For the reader's information only.
    Information,
}

/// One finding about a design document.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Finding {
    /// How much it weighs.
    pub severity: Severity,
    /// Stable code in lower-case words joined by hyphens, such as `unknown-point`.
    pub code: String,
    /// JSON Pointer (RFC 6901) to the place in the document.
    pub pointer: String,
    /// Ids of the members concerned; empty when it concerns none in particular.
    pub members: Vec<String>,
    /// One sentence that says what is wrong and what to do about it.
    pub message: String,
}

impl Finding {
    /// An error at a JSON Pointer; the sentence is made of what it is about.
    #[must_use]
    pub fn error(code: &str, pointer: String, fact: impl Display) -> Self {
        Self {
            severity: Severity::Error,
            code: code.to_owned(),
            pointer,
            members: Vec::new(),
            message: fact.to_string(),
        }
    }

    /// A warning at a JSON Pointer.
    #[must_use]
    pub fn warning(code: &str, pointer: String, fact: impl Display) -> Self {
        Self { severity: Severity::Warning, ..Self::error(code, pointer, fact) }
    }

    /// A piece of information at a JSON Pointer.
    #[must_use]
    pub fn information(code: &str, pointer: String, fact: impl Display) -> Self {
        Self { severity: Severity::Information, ..Self::error(code, pointer, fact) }
    }

    /// What tells it from others of one document: severity, code, place and members, whatever its sentence.
    #[must_use]
    pub fn key(&self) -> (Severity, &str, &str, &[String]) {
        (self.severity, &self.code, &self.pointer, &self.members)
    }

    /// The same finding, naming the members concerned.
    #[must_use]
    pub fn about<I: IntoIterator<Item = S>, S: Into<String>>(mut self, members: I) -> Self {
        self.members = members.into_iter().map(Into::into).collect();
        self
    }
}

/// Findings as they are collected.
#[derive(Debug, Default)]
pub struct Findings(Vec<Finding>);

impl Findings {
    /// Adds one.
    pub fn push(&mut self, finding: Finding) {
        self.0.push(finding);
    }

    /// Adds all of another collection.
    pub fn append(&mut self, mut others: Self) {
        self.0.append(&mut others.0);
    }

    /// Adds an error at a place.
    pub fn error(&mut self, code: &str, place: &JsonPlace<'_>, fact: impl Display) {
        self.push(Finding::error(code, place.pointer(), fact));
    }

    /// True when one of them is an error.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.0.iter().any(|finding| finding.severity == Severity::Error)
    }

    /// All of them, the weightiest first and otherwise in the order they were found.
    #[must_use]
    pub fn into_sorted(mut self) -> Vec<Finding> {
        self.0.sort_by_key(|finding| finding.severity);
        self.0
    }
}
