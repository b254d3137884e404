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

/// What a generator of the wall meets.
#[derive(Clone, Copy)]
pub(super) struct Met {
    /// The station is infinite where it misses.
    pub sight: Sight,
    pub depth: f64,
    /// Outward normal of the piece there, in [`crate::geometry::Beam::components`].
    pub normal: DVec3,
}

impl Met {
    pub(super) const NOTHING: Self = Self { sight: Sight::MISS, depth: 0.0, normal: DVec3::ZERO };

    pub(super) fn new(view: &View, spot: &Spot, depth: f64, sight: Sight) -> Self {
        Self { sight, depth, normal: view.normal(spot.inwards(depth), sight) }
    }

    pub(super) fn is_hit(&self) -> bool {
        self.sight.s < f64::INFINITY
    }

    /// Cosine of the angle between both outward normals. The station falls with the depth where this is above zero:
    /// `ds/drho = -(v . N) / (d . N)`.
    pub(super) fn lean(&self, spot: &Spot) -> f64 {
        spot.normal[0] * self.normal.x + spot.normal[1] * self.normal.y
    }
}

impl Wall<'_> {
    /// What the generator at a depth meets.
    pub(super) fn met(&self, depth: f64) -> Met {
        let sight = self.sight(depth);
        if sight.s < f64::INFINITY { Met::new(self.view, self.spot, depth, sight) } else { Met::NOTHING }
    }

    fn sight(&self, depth: f64) -> Sight {
        let sight = self.view.first(self.spot.inwards(depth), self.start);
        if sight.s <= self.limit { sight } else { Sight::MISS }
    }

    /// The least station, from what outer surface and bore meet.
    pub(super) fn least(&self, outer: Met, bore: Met) -> Met {
        if self.view.is_convex() {
            // The station is a convex function of the depth.
            if outer.is_hit() && bore.is_hit() {
                if outer.lean(self.spot) <= 0.0 {
                    return outer;
                }
                if bore.lean(self.spot) >= 0.0 {
                    return bore;
                }
            }
            let [x, y] = self.spot.normal;
            match self.view.least(self.spot.at, [-x, -y], self.depth, self.start) {
                Least::At(depth, sight) if sight.s <= self.limit => {
                    return Met::new(self.view, self.spot, depth, sight);
                }
                Least::At(..) | Least::Nowhere => return Met::NOTHING,
                Least::Unknown => {}
            }
        }
        self.sampled(outer, bore)
    }

    /// Over a wall the station changes gently, so a few samples with their leans show where it falls and rises again; more of
    /// them where part of the wall misses.
    fn sampled(&self, outer: Met, bore: Met) -> Met {
        let steps = if outer.is_hit() && bore.is_hit() { 2 } else { 6 };
        let mut best = outer;
        let mut better = |found: Met| {
            if found.sight.s < best.sight.s {
                best = found;
            }
        };
        let (mut from, mut left) = (0.0, outer);
        for step in 1..=steps {
            let to = self.depth * f64::from(step) / f64::from(steps);
            let here = if step == steps { bore } else { self.met(to) };
            better(here);
            match (left.is_hit(), here.is_hit()) {
                (true, true) if left.lean(self.spot) > 0.0 && here.lean(self.spot) < 0.0 => {
                    let lean = |depth: f64| self.met(depth).lean(self.spot);
                    better(self.met(bisect(from, to, RESOLUTION * self.depth, lean)));
                }
                (true, false) | (false, true) => better(self.met(self.least_to_edge(from, left.is_hit(), to))),
                _ => {}
            }
            (from, left) = (to, here);
        }
        best
    }

    /// Depth of the least station between two depths of which one meets the piece and the other misses it.
    fn least_to_edge(&self, shallow: f64, shallow_meets: bool, deep: f64) -> f64 {
        let meets = |depth: f64| if self.sight(depth).s < f64::INFINITY { 1.0 } else { -1.0 };
        let edge = bisect(shallow, deep, RESOLUTION * RESOLUTION * self.depth, meets);
        let (from, to) = if shallow_meets { (shallow, edge) } else { (edge, deep) };
        least_place(from, to, RESOLUTION * self.depth, |depth| self.sight(depth).s)
    }
}
