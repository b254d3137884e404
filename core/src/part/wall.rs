//! The least station over the wall at one place of the outline: where a cut square to the surface must stop.

use crate::geometry::{Least, Sight, Spot, View, bisect, least_place};

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
struct Met {
    depth: f64,
    sight: Sight,
    /// The station falls with the depth where this is above zero, as both outward normals point to the same side there:
    /// `ds/drho = -(v . N) / (d . N)`.
    lean: f64,
}

impl Wall<'_> {
    /// What the generator at a depth meets.
    pub(super) fn sight(&self, depth: f64) -> Option<Sight> {
        self.view.first(self.spot.inwards(depth), self.start).filter(|sight| sight.s <= self.limit)
    }

    /// The depth with the least station and what is met there, from what outer surface and bore meet; `None` when no depth meets
    /// the piece.
    pub(super) fn least(&self, outer: Option<Sight>, bore: Option<Sight>) -> Option<(f64, Sight)> {
        let outer = outer.map(|sight| self.met(0.0, sight));
        let bore = bore.map(|sight| self.met(self.depth, sight));
        if self.view.is_convex() {
            // The station is a convex function of the depth.
            match (outer, bore) {
                (Some(outer), Some(_)) if outer.lean <= 0.0 => return Some((0.0, outer.sight)),
                (Some(_), Some(bore)) if bore.lean >= 0.0 => return Some((self.depth, bore.sight)),
                _ => {}
            }
            let [x, y] = self.spot.normal;
            match self.view.least(self.spot.at, [-x, -y], self.depth, self.start) {
                Least::At(depth, sight) => return (sight.s <= self.limit).then_some((depth, sight)),
                Least::Nowhere => return None,
                Least::Unknown => {}
            }
        }
        self.sampled(outer, bore)
    }

    fn met(&self, depth: f64, sight: Sight) -> Met {
        let normal = self.view.normal(self.spot.inwards(depth), sight);
        Met { depth, sight, lean: self.spot.normal[0] * normal.x + self.spot.normal[1] * normal.y }
    }

    /// Over a wall the station changes gently, so a few samples with their leans show where it falls and rises again; more of
    /// them where part of the wall misses.
    fn sampled(&self, outer: Option<Met>, bore: Option<Met>) -> Option<(f64, Sight)> {
        let steps = if outer.is_some() && bore.is_some() { 2 } else { 6 };
        let mut best = None;
        let mut left = (0.0, outer);
        for step in 1..=steps {
            let depth = self.depth * f64::from(step) / f64::from(steps);
            let here = if step == steps { bore } else { self.sight(depth).map(|sight| self.met(depth, sight)) };
            let inside = match (left.1, here) {
                (Some(before), Some(after)) if before.lean > 0.0 && after.lean < 0.0 => {
                    let lean = |depth: f64| self.sight(depth).map_or(0.0, |sight| self.met(depth, sight).lean);
                    Some(bisect(before.depth, depth, RESOLUTION * self.depth, lean))
                }
                (Some(_), None) | (None, Some(_)) => Some(self.least_to_edge(left.0, left.1.is_some(), depth)),
                _ => None,
            };
            let ends = [left.1, here].map(|met| met.map(|met| (met.depth, met.sight)));
            let inside = inside.and_then(|depth| Some((depth, self.sight(depth)?)));
            best = [best, ends[0], ends[1], inside]
                .into_iter()
                .flatten()
                .reduce(|best, next| if next.1.s < best.1.s { next } else { best });
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
