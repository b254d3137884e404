//! What the rules decide of an end and of a node.

use super::end::EndAt;
use super::told::Told;
use crate::frame::Target;

/// How an end is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Role {
    /// Square at its point.
    Square,
    /// Square, so far past its point, mm.
    RunOn(f64),
    /// Cut by the plane on which it meets its partner.
    Mitre,
    /// Fitted to others.
    Cope,
}

/// What is decided of an end.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Decided {
    pub(super) at: EndAt,
    pub(super) role: Role,
    /// The other end of a mitred pair, or the opposite hand with which it closes on the middle plane.
    pub(super) partner: Option<EndAt>,
    /// What it is fitted to, in the order in which those are placed.
    pub(super) onto: Vec<Target>,
    /// True when the middle plane cuts it as well.
    pub(super) on_middle: bool,
}

/// What is decided of a node.
#[derive(Debug, Clone, Default)]
pub(super) struct Outcome {
    /// Of its open ends.
    pub(super) decided: Vec<Decided>,
    /// How far tubes that pass must run on past an end near the node: the end, and mm from its point.
    pub(super) passing_runs_on: Vec<(EndAt, f64)>,
    /// What is to be said of it.
    pub(super) told: Vec<Told>,
}

impl Outcome {
    /// True when one of its findings says that it cannot be made so.
    pub(super) fn is_refused(&self) -> bool {
        self.told.iter().any(Told::is_error)
    }
}
