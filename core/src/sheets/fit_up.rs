//! The fit-up order: what goes on when, and what each end must meet.

use super::End;
use super::rounded;
use crate::frame::{Frame, fit::tip};
use crate::part::Part;
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

impl FitUp {
    /// The order of a frame's parts.
    #[must_use]
    pub fn of(frame: &Frame, parts: &[Part]) -> Self {
        let steps = parts.iter().zip(1..).map(|(part, number)| {
            let member = &frame.members[part.member];
            FitUpStep {
                number,
                member: member.id.clone(),
                size: frame.tube(member).size(),
                ends: [End::From, End::To].map(|end| FitUpEnd::of(frame, part, end)),
                note: member.note.clone(),
            }
        });
        Self { steps: steps.collect() }
    }
}

impl FitUpEnd {
    fn of(frame: &Frame, part: &Part, end: End) -> Self {
        let member = &frame.members[part.member];
        let made = &part.ends[end.position()];
        Self {
            end,
            cut: made.kind.word().to_owned(),
            fits: made.met.iter().map(|&met| frame.members[met].id.clone()).collect(),
            at: tip(member, end.position()).origin.to_array().map(rounded),
            trim: member.leave_long[end.position()],
        }
    }
}
