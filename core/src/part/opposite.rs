//! The opposite hand of an end that has been cut already: what is a mirror image is turned over instead of cut again.

use super::cut::Cut;
use super::end::{Bevel, PartEnd, longest};
use super::line::{CutLine, LinePoint};
use super::seat::Seat;
use crate::frame::{Fit, Target};
use crate::geometry::{Piece, mirrored};

impl PartEnd {
    /// The end cut by `cut` to `fit`, taken from the same end of the opposite hand, which was cut to `fit_there`; `None` when
    /// one is not the mirror image of the other.
    pub(super) fn turned_over(&self, fit_there: &Fit, cut: &Cut, fit: &Fit) -> Option<Self> {
        if self.seat != Seat::default() || fit.kind != fit_there.kind || !is_mirror_image(&self.cut, cut) {
            return None;
        }
        let partners = partners(&self.cut, cut)?;
        let owner = |fit: &Fit, target: usize| fit.targets.get(target).copied().or(fit.plane_of);
        let met_here = |met: &Target| {
            let there = (0..partners.len()).find(|&target| owner(fit_there, target) == Some(*met))?;
            owner(fit, partners[there])
        };
        let shares_nothing = self.kind.is_square() && fit.kind.is_square();
        let met = if shares_nothing || fit.targets.is_empty() {
            fit.targets.iter().copied().chain(fit.plane_of).collect()
        } else {
            self.met.iter().map(met_here).collect::<Option<Vec<Target>>>()?
        };
        let perimeter = cut.profile().perimeter();
        let outer = turned_over(&self.outer, perimeter);
        Some(Self {
            longest: longest(&outer, cut),
            relief: turned_over(&self.relief, perimeter),
            bevels: self.bevels.iter().map(|bevel| Bevel { u: (perimeter - bevel.u) % perimeter, ..*bevel }).collect(),
            moment: mirrored(self.moment),
            outer,
            met,
            missed: Vec::new(),
            seat: Seat::default(),
            cut: cut.clone(),
            ..*self
        })
    }
}

fn turned_over(line: &CutLine, perimeter: f64) -> CutLine {
    let run = |run: &Vec<LinePoint>| {
        run.iter().rev().map(|point| LinePoint { u: perimeter - point.u, s: point.s }).collect::<Vec<_>>()
    };
    CutLine { runs: line.runs.iter().rev().map(run).collect() }
}

/// True when the tube of one cut is the mirror image of that of the other, clock angles running the other way.
fn is_mirror_image(there: &Cut, here: &Cut) -> bool {
    let (one, other) = (there.end(), here.end());
    one.profile == other.profile
        && there.start() == here.start()
        && there.limit() == here.limit()
        && mirrored(one.datum) == other.datum
        && mirrored(one.outwards) == other.outwards
        && mirrored(one.index) == other.index
        && mirrored(one.side) == -other.side
}

/// For each target of one cut the one here that is its mirror image; `None` when one of them has none.
fn partners(there: &Cut, here: &Cut) -> Option<Vec<usize>> {
    if there.targets().len() != here.targets().len() {
        return None;
    }
    let same = |one: &[Piece], other: &[Piece]| {
        one.len() == other.len() && one.iter().all(|piece| other.iter().any(|image| image.is_mirror_image_of(piece)))
    };
    let partner = |pieces: &[Piece]| here.targets().iter().position(|target| same(pieces, target.pieces()));
    there.targets().iter().map(|target| partner(target.pieces())).collect()
}
