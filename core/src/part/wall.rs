//! The least station over the wall at one place of the outline: where a cut square to the surface must stop.

use crate::geometry::{DVec3, Least, Sight, Spot, View, bisect, least_place};

/// How exactly a depth is found, as a part of the wall: the station is least there, so it is exact to the square of this.
const RESOLUTION: f64 = 1e-7;

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

/// A generator of the wall that meets the piece.
#[derive(Clone, Copy)]
pub(super) struct Met {
    pub depth: f64,
    pub sight: Sight,
    /// Outward normal of the piece there, in [`crate::geometry::Beam::components`].
    pub normal: DVec3,
}

impl Met {
    pub(super) fn new(view: &View, spot: &Spot, depth: f64, sight: Sight) -> Self {
        Self { depth, sight, normal: view.normal(spot.inwards(depth), sight) }
    }

    /// Cosine of the angle between both outward normals. The station falls with the depth where this is above zero:
    /// `ds/drho = -(v . N) / (d . N)`.
    pub(super) fn lean(&self, spot: &Spot) -> f64 {
        spot.normal[0] * self.normal.x + spot.normal[1] * self.normal.y
    }
}

impl Wall<'_> {
    /// What the generator at a depth meets.
    pub(super) fn met(&self, depth: f64) -> Option<Met> {
        self.sight(depth).map(|sight| Met::new(self.view, self.spot, depth, sight))
    }

    fn sight(&self, depth: f64) -> Option<Sight> {
        self.view.first(self.spot.inwards(depth), self.start).filter(|sight| sight.s <= self.limit)
    }

    /// The least station, from what outer surface and bore meet; `None` when no depth meets the piece.
    pub(super) fn least(&self, outer: Option<Met>, bore: Option<Met>) -> Option<Met> {
        if self.view.is_convex() {
            // The station is a convex function of the depth.
            match (outer, bore) {
                (Some(outer), Some(_)) if outer.lean(self.spot) <= 0.0 => return Some(outer),
                (Some(_), Some(bore)) if bore.lean(self.spot) >= 0.0 => return Some(bore),
                _ => {}
            }
            let [x, y] = self.spot.normal;
            match self.view.least(self.spot.at, [-x, -y], self.depth, self.start) {
                Least::At(depth, sight) => {
                    return (sight.s <= self.limit).then(|| Met::new(self.view, self.spot, depth, sight));
                }
                Least::Nowhere => return None,
                Least::Unknown => {}
            }
        }
        self.sampled(outer, bore)
    }

    /// Over a wall the station changes gently, so a few samples with their leans show where it falls and rises again; more of
    /// them where part of the wall misses.
    fn sampled(&self, outer: Option<Met>, bore: Option<Met>) -> Option<Met> {
        let steps = if outer.is_some() && bore.is_some() { 2 } else { 6 };
        let mut best = outer;
        let mut better = |found: Option<Met>| {
            if let Some(found) = found
                && best.is_none_or(|best| found.sight.s < best.sight.s)
            {
                best = Some(found);
            }
        };
        let mut left = (0.0, outer);
        for step in 1..=steps {
            let depth = self.depth * f64::from(step) / f64::from(steps);
            let here = if step == steps { bore } else { self.met(depth) };
            better(here);
            match (left.1, here) {
                (Some(before), Some(after)) if before.lean(self.spot) > 0.0 && after.lean(self.spot) < 0.0 => {
                    let lean = |depth: f64| self.met(depth).map_or(0.0, |met| met.lean(self.spot));
                    better(self.met(bisect(before.depth, depth, RESOLUTION * self.depth, lean)));
                }
                (Some(_), None) | (None, Some(_)) => {
                    better(self.met(self.least_to_edge(left.0, left.1.is_some(), depth)));
                }
                _ => {}
            }
            left = (depth, here);
        }
        best
    }

    /// Depth of the least station between two depths of which one meets the piece and the other misses it.
    fn least_to_edge(&self, shallow: f64, shallow_meets: bool, deep: f64) -> f64 {
        let meets = |depth: f64| if self.sight(depth).is_some() { 1.0 } else { -1.0 };
        let edge = bisect(shallow, deep, RESOLUTION * RESOLUTION * self.depth, meets);
        let (from, to) = if shallow_meets { (shallow, edge) } else { (edge, deep) };
        let station = |depth: f64| self.sight(depth).map_or(f64::INFINITY, |sight| sight.s);
        least_place(from, to, RESOLUTION * self.depth, station)
    }
}
