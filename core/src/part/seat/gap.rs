//! Stretches of the wall that pass what the end is fitted to.

use super::{Looked, RESOLVED, TOUCHES, stretches};
use crate::geometry::least_place;
use crate::part::cut::{Nearest, nearest_to};
use crate::part::line::{CutLine, LinePoint};

/// Places round the outline at which a gap is measured.
const SIDES: f64 = 48.0;

/// Distances that differ by less are equally far, mm: of those the first round the tube is named.
const EQUAL: f64 = 1e-4;

/// A stretch of the outer surface that passes every target by more than [`TOUCHES`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Missed {
    /// Where it begins and ends, mm round the outline; the end may run past the whole outline.
    pub between: [f64; 2],
    /// By how much the wall passes the target at the worst place, mm.
    pub by: f64,
    /// Where that is, mm round the outline.
    pub at: f64,
}

/// How the wall of an end passes its targets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gap {
    /// Distance of the generator that passes furthest from its nearest target, mm.
    pub by: f64,
    /// Where that is, mm round the outline.
    pub at: f64,
    /// Length of the outline that passes by more than [`TOUCHES`], mm.
    pub outline: f64,
    /// True when all of the outline does.
    pub is_all: bool,
    /// The target that is nearest there, as a position in the fit's targets; `None` for the plane of the end.
    pub target: Option<usize>,
    /// Why it passes.
    pub cause: Cause,
}

/// Why a wall passes its target.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cause {
    /// The target lies beside it.
    Beside,
    /// The target stops too soon: it would be met if it ran on by so many mm.
    BeyondEnd {
        /// How far it must run on, mm.
        run_on: f64,
    },
}

/// What a break in the outer line comes to.
struct Break {
    /// Distances at places from its begin to its end.
    places: Vec<(f64, f64)>,
    /// Where the distance is more than [`TOUCHES`].
    missed: Vec<Missed>,
}

impl Looked<'_> {
    pub(super) fn gap(&self, outer: &mut CutLine, relief: &mut CutLine) -> (Option<Gap>, Vec<Missed>) {
        let perimeter = self.cut.profile().perimeter();
        let is_met = !outer.runs.is_empty();
        let breaks = if is_met { outer.breaks(perimeter) } else { vec![[0.0, perimeter]] };
        if breaks.is_empty() {
            return (None, Vec::new());
        }
        let breaks: Vec<Break> = breaks.into_iter().map(|between| self.measured(between, is_met)).collect();
        for found in &breaks {
            self.carry_on(found, outer);
            self.carry_on(found, relief);
        }
        let missed: Vec<Missed> = breaks.into_iter().flat_map(|found| found.missed).collect();
        let furthest = missed.iter().map(|missed| missed.by).fold(0.0, f64::max);
        // Of equal ones that with the least clock angle.
        let equal = missed.iter().filter(|missed| missed.by >= furthest - EQUAL);
        let Some(worst) = equal.min_by(|a, b| a.at.total_cmp(&b.at)).copied() else { return (None, missed) };
        let outline = missed.iter().map(|missed| missed.between[1] - missed.between[0]).sum::<f64>();
        let nearest = self.nearest(worst.at);
        let target = nearest.map(|nearest| nearest.target).filter(|&target| target < self.fit.targets.len());
        let gap = Gap {
            by: worst.by,
            at: worst.at,
            outline,
            is_all: !is_met && outline > (1.0 - 10.0 * RESOLVED) * perimeter,
            target,
            cause: target.map_or(Cause::Beside, |target| self.cause(target, worst.at)),
        };
        (Some(gap), missed)
    }

    fn by(&self, u: f64) -> f64 {
        if self.cut.contact(u, 0.0).is_some() { 0.0 } else { self.nearest(u).map_or(f64::INFINITY, |near| near.by) }
    }

    /// Where a generator comes nearest to a target, those included that lie too far away to be met.
    fn nearest(&self, u: f64) -> Option<Nearest> {
        self.cut.nearest(u).or_else(|| {
            let ray = self.cut.end().generator(u, 0.0);
            let solids = self.fit.targets.iter().map(|&target| self.frame.solid(target, self.member.gap));
            let all = solids.enumerate().filter_map(|(target, solid)| {
                let pieces = solid.pieces().iter();
                let near = pieces.filter_map(|piece| nearest_to(piece, &ray, [self.cut.start(), self.cut.limit()]));
                near.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(s, by)| Nearest { by, s, target })
            });
            all.min_by(|a, b| a.by.total_cmp(&b.by))
        })
    }

    fn measured(&self, [from, to]: [f64; 2], is_met: bool) -> Break {
        let perimeter = self.cut.profile().perimeter();
        let count = (SIDES * (to - from) / perimeter).ceil().max(4.0);
        let mut places = Vec::new();
        let mut step = 0.0;
        while step <= count {
            let u = from + (to - from) * step / count;
            let is_edge = is_met && (step == 0.0 || step == count);
            places.push((u, if is_edge { 0.0 } else { self.by(u) }));
            step += 1.0;
        }
        let over: Vec<(f64, f64)> = places.iter().map(|&(u, by)| (u, by - TOUCHES)).collect();
        let over = stretches(&over, RESOLVED * perimeter, |u| self.by(u) - TOUCHES);
        let missed = over.into_iter().map(|between| {
            let (at, by) = self.furthest(between, &places);
            Missed { between, by, at: at.rem_euclid(perimeter) }
        });
        let missed = missed.collect();
        Break { places, missed }
    }

    /// The place in a stretch that passes furthest, and its distance.
    fn furthest(&self, [from, to]: [f64; 2], places: &[(f64, f64)]) -> (f64, f64) {
        let within = places.iter().filter(|(u, _)| (from..=to).contains(u)).copied();
        let best = within.reduce(|best, next| if next.1 > best.1 + EQUAL { next } else { best });
        let (left, right) = match best {
            Some((u, _)) => {
                let at = places.iter().position(|place| place.0 == u).unwrap_or(0);
                (places[at.saturating_sub(1)].0.max(from), places[(at + 1).min(places.len() - 1)].0.min(to))
            }
            None => (from, to),
        };
        let u = least_place(left, right, RESOLVED * self.cut.profile().perimeter(), |u| -self.by(u));
        let found = (u, self.by(u));
        best.filter(|best| best.1 >= found.1 - EQUAL).unwrap_or(found)
    }

    /// Why the wall passes a target at its worst place.
    fn cause(&self, target: usize, at: f64) -> Cause {
        let Some((end, _)) = self.beyond(target, at) else { return Cause::Beside };
        let needs =
            |u: f64| self.cut.contact(u, 0.0).is_none() || self.lands_on(u).is_some_and(|on| on == (target, end));
        self.run_on(target, end, needs).map_or(Cause::Beside, |run_on| Cause::BeyondEnd { run_on })
    }

    /// Carries a line on through the parts of a break in which the wall touches.
    fn carry_on(&self, found: &Break, line: &mut CutLine) {
        let (Some(&(from, _)), Some(&(to, _))) = (found.places.first(), found.places.last()) else { return };
        let mut from = from;
        for missed in &found.missed {
            self.fill([from, missed.between[0]], found, line);
            from = missed.between[1];
        }
        self.fill([from, to], found, line);
    }

    fn fill(&self, [from, to]: [f64; 2], found: &Break, line: &mut CutLine) {
        let perimeter = self.cut.profile().perimeter();
        if to - from <= RESOLVED * perimeter || line.covers(0.5 * (from + to), perimeter) {
            return;
        }
        let inner = found.places.iter().map(|place| place.0).filter(|&u| from < u && u < to);
        let places = core::iter::once(from).chain(inner).chain(core::iter::once(to));
        let points = places.filter_map(|u| {
            let s = match self.cut.contact(u.rem_euclid(perimeter), 0.0) {
                Some(contact) => contact.s,
                None => self.nearest(u)?.s,
            };
            Some(LinePoint { u, s })
        });
        line.add_run(points.collect(), perimeter);
    }
}
