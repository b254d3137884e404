//! The least station over the wall at one place of the outline: where a cut square to the surface must stop.

use crate::geometry::{Least, Sight, Spot, View, bisect, least_place};

/// The generators between outer surface and bore at one place, and one piece that they may meet.
pub(super) struct Wall<'a> {
    pub view: &'a View,
    /// Place on the outer surface.
    pub spot: &'a Spot,
    /// From outer surface to bore, mm.
    pub depth: f64,
    pub start: f64,
    pub limit: f64,
}

impl Wall<'_> {
    /// The depth with the least station and what is seen there; `None` when no depth meets the piece.
    pub(super) fn least(&self) -> Option<(f64, Sight)> {
        let [x, y] = self.spot.normal;
        match self.view.least(self.spot.at, [-x, -y], self.depth, self.start) {
            Least::At(depth, sight) => (sight.s <= self.limit).then_some((depth, sight)),
            Least::Nowhere => None,
            Least::Unknown if self.view.is_convex() => self.convex(),
            Least::Unknown => self.sampled(),
        }
    }

    fn sight(&self, depth: f64) -> Option<Sight> {
        self.view.first(self.spot.inwards(depth), self.start).filter(|sight| sight.s <= self.limit)
    }

    fn seen(&self, depth: f64) -> Option<(f64, Sight)> {
        self.sight(depth).map(|sight| (depth, sight))
    }

    fn station(&self, depth: f64) -> f64 {
        self.sight(depth).map_or(f64::INFINITY, |sight| sight.s)
    }

    /// The station falls with the depth exactly where the two outward normals point to the same side:
    /// `ds/drho = -(v . N) / (d . N)`. 0 at a miss.
    fn lean(&self, depth: f64) -> f64 {
        self.sight(depth).map_or(0.0, |sight| {
            let normal = self.view.normal(self.spot.inwards(depth), sight);
            self.spot.normal[0] * normal.x + self.spot.normal[1] * normal.y
        })
    }

    /// For a convex piece the station is a convex function of the depth.
    fn convex(&self) -> Option<(f64, Sight)> {
        let (outer, bore) = (self.seen(0.0), self.seen(self.depth));
        match (outer.is_some(), bore.is_some()) {
            (true, true) => {
                if self.lean(0.0) <= 0.0 {
                    outer
                } else if self.lean(self.depth) >= 0.0 {
                    bore
                } else {
                    nearest([outer, bore, self.seen(bisect(0.0, self.depth, |depth| self.lean(depth)))])
                }
            }
            (false, false) => self.sampled(),
            (has_outer, _) => {
                let hits = |depth: f64| if self.sight(depth).is_some() { 1.0 } else { -1.0 };
                let edge = bisect(0.0, self.depth, hits);
                let (shallow, deep) = if has_outer { (0.0, edge) } else { (edge, self.depth) };
                let inside = least_place(shallow, deep, 1e-6 * self.depth, |depth| self.station(depth));
                nearest([outer, bore, self.seen(inside)])
            }
        }
    }

    /// Over a wall the station on a bend changes gently, so a few samples with their leans show where it falls and rises again.
    fn sampled(&self) -> Option<(f64, Sight)> {
        const STEPS: u32 = 4;
        let at = |step: u32| self.depth * f64::from(step) / f64::from(STEPS);
        let mut best = None;
        let mut left: Option<(f64, Option<Sight>, f64)> = None;
        for depth in (0..=STEPS).map(at) {
            let sight = self.sight(depth);
            let lean = self.lean(depth);
            best = nearest([best, sight.map(|sight| (depth, sight)), None]);
            if let Some((before, seen, lean_before)) = left {
                let inside = match (seen.is_some(), sight.is_some()) {
                    (true, true) if lean_before > 0.0 && lean < 0.0 => {
                        Some(bisect(before, depth, |depth| self.lean(depth)))
                    }
                    (true, false) | (false, true) => {
                        Some(least_place(before, depth, 1e-6 * self.depth, |depth| self.station(depth)))
                    }
                    _ => None,
                };
                best = nearest([best, inside.and_then(|inside| self.seen(inside)), None]);
            }
            left = Some((depth, sight, lean));
        }
        best
    }
}

/// The least station of several; of equal ones the first.
fn nearest(found: [Option<(f64, Sight)>; 3]) -> Option<(f64, Sight)> {
    found.into_iter().flatten().reduce(|best, next| if next.1.s < best.1.s { next } else { best })
}
