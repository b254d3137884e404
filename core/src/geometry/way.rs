//! The rays on a straight way through a beam, such as those from the outside of a wall to its inside: which of them meets a
//! piece first.

use super::solid::{Least, Sees};
use super::{DVec3, Sight, bisect, least_place};

/// How exactly a depth is found, as a part of the way: the parameter is least there, so it is exact to the square of this.
const RESOLUTION: f64 = 1e-7;

/// A straight way over the plane of a beam.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Way {
    /// Where it starts.
    pub place: [f64; 2],
    /// Unit vector along it.
    pub inwards: [f64; 2],
    /// Its length, mm.
    pub depth: f64,
    /// Parameter from which rays look for their first hit.
    pub start: f64,
    /// Parameter beyond which a hit no longer counts.
    pub limit: f64,
}

/// What a ray on the way meets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Met {
    /// Where the ray is met; infinite where it misses.
    pub sight: Sight,
    /// How far along the way the ray lies, mm.
    pub depth: f64,
    /// Outward unit normal of the piece there, in [`super::Beam::components`].
    pub normal: DVec3,
}

impl Met {
    /// Nothing is met.
    pub const NOTHING: Self = Self { sight: Sight::MISS, depth: 0.0, normal: DVec3::ZERO };

    /// True when something is met.
    #[must_use]
    pub fn is_hit(&self) -> bool {
        self.sight.s < f64::INFINITY
    }
}

/// The rays at both ends of a way, and the one that meets the piece first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extremes {
    /// At the start of the way.
    pub outer: Met,
    /// At its end.
    pub inner: Met,
    /// A ray between that meets the piece before both.
    between: Option<Met>,
}

impl Extremes {
    /// The least parameter of all.
    #[must_use]
    pub fn least(&self) -> &Met {
        match &self.between {
            Some(between) => between,
            None if self.outer.sight.s <= self.inner.sight.s => &self.outer,
            None => &self.inner,
        }
    }
}

impl Way {
    #[inline]
    fn at(&self, depth: f64) -> [f64; 2] {
        [self.place[0] + depth * self.inwards[0], self.place[1] + depth * self.inwards[1]]
    }

    #[inline]
    fn sight(&self, piece: &impl Sees, depth: f64) -> Sight {
        let sight = piece.first(self.at(depth), self.start);
        if sight.s <= self.limit { sight } else { Sight::MISS }
    }

    #[inline]
    fn met(&self, piece: &impl Sees, depth: f64) -> Met {
        let (sight, normal) = piece.first_and_normal(self.at(depth), self.start);
        if sight.s <= self.limit { Met { sight, depth, normal } } else { Met::NOTHING }
    }

    /// How the parameter rises along the way, but for a factor above zero: `ds/dt = -(w . N) / (d . N)` with the unit vector `w`
    /// along the way.
    #[inline]
    fn rise(&self, met: &Met) -> f64 {
        self.inwards[0] * met.normal.x + self.inwards[1] * met.normal.y
    }

    #[inline]
    pub(super) fn extremes(&self, piece: &impl Sees) -> Extremes {
        let (outer, inner) = (self.met(piece, 0.0), self.met(piece, self.depth));
        // For a convex piece the parameter is a convex function of the way.
        let is_at_end = piece.is_convex()
            && outer.is_hit()
            && inner.is_hit()
            && (self.rise(&outer) >= 0.0 || self.rise(&inner) <= 0.0);
        let between = if is_at_end { None } else { self.between(piece, &outer, &inner) };
        Extremes { outer, inner, between }
    }

    fn between(&self, piece: &impl Sees, outer: &Met, inner: &Met) -> Option<Met> {
        let found = match piece.least(self.place, self.inwards, self.depth, self.start) {
            Least::At(depth, sight) if sight.s <= self.limit => {
                Met { sight, depth, normal: piece.normal(self.at(depth), sight) }
            }
            Least::At(..) | Least::Nowhere => return None,
            Least::Unknown => self.sampled(piece, outer, inner)?,
        };
        (found.sight.s < outer.sight.s.min(inner.sight.s)).then_some(found)
    }

    /// Over a short way the parameter changes gently, so a few samples with their rises show where it falls and rises again;
    /// more of them where some rays miss.
    fn sampled(&self, piece: &impl Sees, outer: &Met, inner: &Met) -> Option<Met> {
        let steps = if outer.is_hit() && inner.is_hit() { 2 } else { 6 };
        let mut best: Option<Met> = None;
        let mut better = |found: Met| {
            if found.is_hit() && best.is_none_or(|best| found.sight.s < best.sight.s) {
                best = Some(found);
            }
        };
        let (mut from, mut left) = (0.0, *outer);
        for step in 1..=steps {
            let to = self.depth * f64::from(step) / f64::from(steps);
            let here = if step == steps { *inner } else { self.met(piece, to) };
            better(here);
            match (left.is_hit(), here.is_hit()) {
                (true, true) if self.rise(&left) < 0.0 && self.rise(&here) > 0.0 => {
                    let rise = |depth: f64| self.rise(&self.met(piece, depth));
                    better(self.met(piece, bisect(from, to, RESOLUTION * self.depth, rise)));
                }
                (true, false) | (false, true) => {
                    better(self.met(piece, self.least_to_edge(piece, from, left.is_hit(), to)));
                }
                _ => {}
            }
            (from, left) = (to, here);
        }
        best
    }

    /// Depth of the least parameter between two depths of which one meets the piece and the other misses it.
    fn least_to_edge(&self, piece: &impl Sees, shallow: f64, shallow_meets: bool, deep: f64) -> f64 {
        let meets = |depth: f64| if self.sight(piece, depth).s < f64::INFINITY { 1.0 } else { -1.0 };
        let edge = bisect(shallow, deep, 1e-9 * self.depth, meets);
        let (from, to) = if shallow_meets { (shallow, edge) } else { (edge, deep) };
        least_place(from, to, RESOLUTION * self.depth, |depth| self.sight(piece, depth).s)
    }
}
