//! Ends as the rules see them.

use super::limits::{EQUAL, in_steps};
use crate::document::{Design, EndCut};
use crate::frame::fit::{meeting, tip};
use crate::frame::{Frame, Member, Target};
use crate::geometry::{DVec3, Profile, Ray};
use std::cmp::Ordering;

/// An end by the position of its member in the frame and its number, 0 or 1.
pub(super) type EndAt = (usize, usize);

/// What the document says of an end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Given {
    /// Nothing: the rules decide.
    Open,
    /// Cut square or by a plane: it stands whatever else comes.
    Standing,
    /// Fitted to others.
    Coped,
    /// Inside or over another tube.
    Inside,
}

/// An end and what the rules ask of it.
#[derive(Debug, Clone, Copy)]
pub(super) struct End {
    pub(super) at: EndAt,
    pub(super) given: Given,
    /// Its point, and its direction out of the body.
    pub(super) tip: Ray,
    pub(super) profile: Profile,
    /// Clock angle 0.
    pub(super) index: DVec3,
    /// Length of its straight part, mm.
    pub(super) length: f64,
}

impl End {
    pub(super) fn of(design: &Design, frame: &Frame, at: EndAt) -> Self {
        Self { given: given(design, &frame.members[at.0], at.1), ..Self::of_frame(frame, at) }
    }

    /// An end as it is placed, whatever the document says of its cut.
    pub(super) fn of_frame(frame: &Frame, at: EndAt) -> Self {
        let member = &frame.members[at.0];
        let leg = if at.1 == 0 { member.path.first() } else { member.path.last() };
        Self {
            at,
            given: Given::Standing,
            tip: tip(member, at.1),
            profile: frame.section(member).profile,
            index: if at.1 == 0 { member.index } else { member.path.carried(member.index) },
            length: leg.length,
        }
    }

    /// Direction into the body, away from the node.
    pub(super) fn away(&self) -> DVec3 {
        -self.tip.direction
    }

    pub(super) fn is_open(&self) -> bool {
        self.given == Given::Open
    }

    pub(super) fn member(&self) -> Target {
        Target::Member(self.at.0)
    }

    /// Outer size: the diameter, or the larger side, mm.
    pub(super) fn size(&self) -> f64 {
        size(self.profile)
    }

    pub(super) fn is_rectangular(&self) -> bool {
        matches!(self.profile, Profile::Rect { .. })
    }

    /// Who is placed first: larger before smaller, rectangular before round, thicker wall before thinner, then build order.
    pub(super) fn placed_before(&self, other: &Self) -> Ordering {
        steps(other.size())
            .cmp(&steps(self.size()))
            .then(other.is_rectangular().cmp(&self.is_rectangular()))
            .then(steps(other.profile.wall()).cmp(&steps(self.profile.wall())))
            .then(self.at.cmp(&other.at))
    }

    /// Angle between two ends' directions away, degrees, and how far their axes pass each other, mm.
    pub(super) fn axes(&self, other: &Self) -> (f64, f64) {
        (angle(self.away(), other.away()), in_steps(meeting(&self.tip, &other.tip).1))
    }

    /// Where the line from the body begins to look for what it comes upon.
    pub(super) fn start(&self) -> f64 {
        -self.length / 2.0
    }
}

/// Outer diameter of a round outline, the larger side of a rectangular one, mm.
pub(super) fn size(profile: Profile) -> f64 {
    match profile {
        Profile::Round { outer, .. } => 2.0 * outer,
        Profile::Rect { half_width, half_height, .. } => 2.0 * half_width.max(half_height),
    }
}

/// A size in steps within which sizes are equal.
#[allow(clippy::cast_possible_truncation, reason = "sizes are bounded by the reader")]
fn steps(size: f64) -> i64 {
    (size / EQUAL).round() as i64
}

/// Angle between two unit directions in steps, degrees.
pub(super) fn angle(a: DVec3, b: DVec3) -> f64 {
    in_steps(libm::atan2(a.cross(b).length(), a.dot(b)).to_degrees())
}

fn given(design: &Design, member: &Member, end: usize) -> Given {
    let ends = design.members[member.source].ends.as_ref();
    let cut = ends.and_then(|ends| if end == 0 { ends.from.as_ref() } else { ends.to.as_ref() });
    match cut {
        None => Given::Open,
        Some(EndCut::Fitted { cope, .. }) if !cope.is_empty() => Given::Coped,
        Some(EndCut::Plug(_) | EndCut::Sleeve(_)) => Given::Inside,
        Some(EndCut::Square | EndCut::RunOn(_) | EndCut::Fitted { .. }) => Given::Standing,
    }
}
