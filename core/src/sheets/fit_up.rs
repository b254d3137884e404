//! The fit-up order: what goes on when, and what each end must meet.

use super::End;
use serde::Serialize;

/// The order in which the parts go together, which is the order of the document.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct FitUp {
    /// One step a member.
    pub steps: Vec<FitUpStep>,
}

/// One part put in its place.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct FitUpStep {
    /// Number of the step, from 1.
    pub number: usize,
    /// Id of the member.
    pub member: String,
    /// Section as a fitter calls it.
    pub size: String,
    /// Both ends, `from` first.
    pub ends: [FitUpEnd; 2],
    /// The designer's note to this member; empty when there is none.
    pub note: String,
}

/// What one end meets.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct FitUpEnd {
    /// Which end.
    pub end: End,
    /// `square`, `mitre` or `cope`.
    pub cut: String,
    /// Members it meets.
    pub fits: Vec<String>,
    /// Place of the end point in the frame: x forward, y left, z up, mm.
    pub at: [f64; 3],
    /// What is left long here and trimmed at this step, mm.
    pub trim: f64,
}
