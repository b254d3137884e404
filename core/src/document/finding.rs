//! What reading or computing a design found: one sentence each, with a stable code and the place.

use serde::{Deserialize, Serialize};

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
