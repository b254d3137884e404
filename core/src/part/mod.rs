//! From a placed member to the part that is made: cut lines, relief, lengths, bends, mass.

mod bends;
pub(crate) mod clash;
pub mod compare;
mod cut;
mod end;
mod findings;
mod hole;
mod line;
mod made;
mod measure;
mod number;
mod opposite;
pub(crate) mod rules;
mod seat;
mod table;
mod trace;
mod volume;

pub use bends::{Bend, Bends};
pub use cut::{Contact, Cut, Nearest, Row, Station, TubeEnd};
pub use end::{Bevel, PartEnd};
pub use hole::PartHole;
pub use line::{CutLine, LinePoint, TOLERANCE};
pub use made::Made;
pub use number::{Numbered, Numbers, PartKind, is_as_measured};
pub use seat::{Cause, Gap, Missed, OpenEnd, Seat, TOUCHES, closed_by_weld};
pub use table::Table;

use crate::document::Findings;
use crate::frame::Frame;
use crate::{Stop, Stopped};

/// A member as it is made.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Position of its member in [`Frame::members`].
    pub member: usize,
    /// Its ends, first end first.
    pub ends: [PartEnd; 2],
    /// Length of the centreline's path, mm, developed through the bends.
    pub length: f64,
    /// Steel in the finished part, mm3.
    pub volume: f64,
    /// Its bends; empty for a straight tube.
    pub bends: Bends,
    /// Its holes.
    pub holes: Vec<PartHole>,
}

impl Part {
    /// Makes the part of a member.
    ///
    /// # Errors
    /// [`Stopped`] when it is no longer wanted.
    pub fn of(frame: &Frame, position: usize, stop: Stop, findings: &mut Findings) -> Result<Self, Stopped> {
        let [from, to] = [0, 1].map(|end| PartEnd::of(frame, position, end, stop));
        Ok(Self::with_ends(frame, position, [from?, to?], findings))
    }

    /// Makes the part of a member whose opposite hand is made already: what is its mirror image is not computed again.
    ///
    /// # Errors
    /// [`Stopped`] when it is no longer wanted.
    pub fn opposite(
        &self,
        frame: &Frame,
        position: usize,
        stop: Stop,
        findings: &mut Findings,
    ) -> Result<Self, Stopped> {
        let [from, to] = [0, 1].map(|end| {
            let there = &frame.members[self.member].ends[end];
            self.ends[end].opposite(there, frame, position, end, stop)
        });
        Ok(Self::with_ends(frame, position, [from?, to?], findings))
    }

    fn with_ends(frame: &Frame, position: usize, ends: [PartEnd; 2], findings: &mut Findings) -> Self {
        let member = &frame.members[position];
        let profile = frame.section(member).profile;
        let length = member.path.length();
        let holes: Vec<PartHole> = member.holes.iter().map(PartHole::of).collect();
        let part = Self {
            member: position,
            volume: profile.area() * length + ends[0].volume + ends[1].volume
                - holes.iter().map(|hole| hole.volume(profile)).sum::<f64>(),
            ends,
            length,
            bends: Bends::of(&member.path),
            holes,
        };
        findings::report(frame, &part, findings);
        rules::report(frame, &part, findings);
        part
    }

    /// Long point to long point along the centreline, mm.
    #[must_use]
    pub fn overall(&self) -> f64 {
        self.length + self.ends[0].longest.s + self.ends[1].longest.s
    }

    /// Between the cuts on the centreline, mm.
    #[must_use]
    pub fn centreline(&self) -> f64 {
        self.length + self.ends[0].on_axis + self.ends[1].on_axis
    }

    /// Between the points of both cuts nearest the middle, on the outer surface, mm.
    #[must_use]
    pub fn short(&self) -> f64 {
        self.length + self.ends[0].least + self.ends[1].least
    }

    /// Clock angle from the long point of the first end's cut to that of the last end's, radians in (-pi, pi];
    /// `None` when one of them is square.
    #[must_use]
    pub fn clock_between_ends(&self) -> Option<f64> {
        use core::f64::consts::{PI, TAU};
        if self.ends.iter().any(|end| end.kind.is_square()) {
            return None;
        }
        let clock = |end: &PartEnd| end.cut.profile().clock(end.longest.u);
        let turn = clock(&self.ends[1]) - clock(&self.ends[0]);
        let turn = turn.rem_euclid(TAU);
        Some(if turn > PI + 1e-9 { turn - TAU } else { turn })
    }
}
