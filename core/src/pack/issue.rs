//! The facts of one issue of a pack, given by the caller: what it is, whose, when.

use serde::{Deserialize, Serialize};

/// What is printed on every page besides its content.
#[derive(Debug, Clone, PartialEq)]
pub struct Issue {
    /// The supplier who issues the pack.
    pub supplier: String,
    /// Name of the design.
    pub design: String,
    /// Revision letter; empty for a draft.
    pub revision: String,
    /// Date of issue, `YYYY-MM-DD`.
    pub date: String,
    /// Serial of the kit; empty when the pack is for no kit.
    pub kit: String,
    /// What sets the kit apart, a line each: its choices and measured values.
    pub kit_facts: Vec<String>,
    /// Number of the pack; empty when it was not issued.
    pub pack_number: String,
    /// What the pack may be used for.
    pub status: Status,
    /// Sheet size.
    pub paper: Paper,
    /// Thickness of the paper that wraps are printed on, mm; 0.10 for 80 g/m2 (common practice).
    pub paper_thickness: f64,
    /// SHA-256 of the canonical design document, lower-case hex.
    pub design_sha256: String,
}

/// What a pack may be used for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// A preview of a draft: not for cutting, and marked so on every page.
    Draft,
    /// A published revision.
    Issued,
}

/// Sheet sizes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "lowercase")]
pub enum Paper {
    /// ISO 216 A4, 210 x 297 mm.
    #[default]
    A4,
    /// North American Letter, 215.9 x 279.4 mm.
    Letter,
}

impl Paper {
    /// Width and height in mm, upright.
    #[must_use]
    pub fn size(self) -> [f64; 2] {
        match self {
            Self::A4 => [210.0, 297.0],
            Self::Letter => [215.9, 279.4],
        }
    }
}
