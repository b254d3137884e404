//! A cut bar as a beam sees it.

use super::CutBar;
use super::edges::Edges;
use crate::geometry::cylinder::CylinderView;
use crate::geometry::view::{Least, Sees, Sight};
use crate::geometry::{Beam, DVec3, Field, PlanePath};

/// Stretches of a way that are narrower than this part of it are none.
const NARROW: f64 = 1e-9;

/// A least parameter that the ray there keeps to within this is taken, mm.
const SURE: f64 = 1e-7;

/// How far inside a stretch its ends are looked at, as a part of it.
const NEAR: f64 = 1e-3;

/// A cut bar as a beam sees it.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::geometry) struct CutBarView {
    bar: CutBar,
    beam: Beam,
    /// The bar that it was, where that is a round one seen from the side.
    round: Option<CylinderView>,
    /// Where what is left of its side ends, where that is known.
    edges: Option<Edges>,
}

/// What is left to see of a cut bar.
pub(in crate::geometry) enum Left {
    Nothing,
    /// No ray can meet its cuts first: it is seen as the bar that it was.
    Whole(CylinderView),
    Cut(Box<CutBarView>),
}

impl CutBarView {
    pub(in crate::geometry) fn seen_by(beam: &Beam, field: &Field, bar: &CutBar) -> Left {
        let cut = |round: Option<CylinderView>| {
            let edges = round.as_ref().and_then(|_| Edges::of(bar, beam));
            Left::Cut(Box::new(Self { bar: bar.clone(), beam: *beam, round, edges }))
        };
        let Some(view) = bar.round().and_then(|round| CylinderView::new(round, beam)) else {
            return cut(None);
        };
        let Some(view) = view.within(field) else { return Left::Nothing };
        let [first, last] = view.entries(field.reach);
        let furthest = |point: DVec3, along: DVec3| {
            let rate = beam.direction.dot(along);
            beam.height(point, along).range(field.reach)[1] + (first * rate).max(last * rate)
        };
        let clears = bar.planes.iter().flatten().all(|plane| furthest(plane.point, plane.normal) < 0.0);
        let is_whole = clears
            && bar.copes.iter().flatten().all(|cope| furthest(cope.lines.origin, cope.lines.direction) < cope.least);
        if is_whole && first > field.start { Left::Whole(view) } else { cut(Some(view)) }
    }

    /// Where a ray meets the side of the bar that it was; `None` where it meets an end of that or begins inside.
    #[inline]
    fn on_side(&self, place: [f64; 2], sight: Sight, start: f64) -> Option<DVec3> {
        (sight.face == 0 && sight.s > start).then(|| self.beam.ray(place).at(sight.s))
    }

    /// The first place at or after `start`, which may be a miss where it lies beyond `limit`: what is left of a bar is met no sooner
    /// than the bar was.
    pub(in crate::geometry) fn first_until(&self, place: [f64; 2], start: f64, limit: f64) -> Sight {
        if self.round.as_ref().is_some_and(|round| round.first(place, start).s > limit) {
            return Sight::MISS;
        }
        self.first(place, start)
    }

    /// False where no ray on a straight way meets the bar that it was before `limit`.
    pub(in crate::geometry) fn may_come_before(&self, way: &PlanePath, limit: f64) -> bool {
        let least = |round: &CylinderView| round.least(way.place, way.inwards, way.depth, way.start);
        match self.round.as_ref().map(least) {
            Some(Least::At(_, sight)) => sight.s < limit,
            Some(Least::Nowhere) => false,
            Some(Least::Unknown) | None => true,
        }
    }

    /// The least parameter on a straight way over what is left, where the bar that it was is met first after `turning` mm, where
    /// nothing is left.
    ///
    /// Between two places where what is left may end, all rays meet its side, or all meet one plane, or none meet it. On the side
    /// the parameter is a convex function of the way, on a plane a linear one: it is least where such a stretch ends.
    fn least_left(&self, way: &PlanePath, turning: f64) -> Least {
        let (Some(edges), Some(round)) = (&self.edges, &self.round) else { return Least::Unknown };
        let mut places = edges.on(way, round);
        places.extend([0.0, turning, way.depth]);
        places.sort_by(f64::total_cmp);
        let at = |depth: f64| [way.place[0] + depth * way.inwards[0], way.place[1] + depth * way.inwards[1]];
        let mut best: Option<(f64, Sight)> = None;
        let mut better = |depth: f64, sight: Sight| {
            if sight.s < f64::INFINITY && best.is_none_or(|(_, best)| sight.s < best.s) {
                best = Some((depth, sight));
            }
        };
        for pair in places.windows(2) {
            let width = pair[1] - pair[0];
            if width <= NARROW * way.depth {
                continue;
            }
            let inside = [NEAR, 0.5, 1.0 - NEAR].map(|part| pair[0] + part * width);
            let seen = inside.map(|depth| self.first(at(depth), way.start));
            let is_met = |sight: &Sight| sight.s < f64::INFINITY;
            if seen
                .iter()
                .any(|sight| is_met(sight) != is_met(&seen[1]) || (is_met(sight) && sight.face != seen[1].face))
            {
                return Least::Unknown;
            }
            match seen[1] {
                Sight { s, .. } if s == f64::INFINITY => {}
                Sight { face: 0, .. } => {
                    for (depth, near) in [(pair[0], inside[0]), (pair[1], inside[2])] {
                        let edge = round.first(at(depth), way.start);
                        let is_side = edge.face == 0 && edge.s > way.start && edge.s < f64::INFINITY;
                        if is_side { better(depth, edge) } else { better(near, self.first(at(near), way.start)) }
                    }
                }
                Sight { face, .. } if self.bar.copes.iter().all(Option::is_none) => {
                    let rate = (seen[2].s - seen[0].s) / (inside[2] - inside[0]);
                    for (depth, near, sight) in [(pair[0], inside[0], seen[0]), (pair[1], inside[2], seen[2])] {
                        better(depth, Sight { s: sight.s + rate * (depth - near), face });
                    }
                }
                Sight { .. } => return Least::Unknown,
            }
        }
        let Some((depth, sight)) = best else { return Least::Nowhere };
        // Where a way only just crosses an edge, the place of the crossing is known worse than the ray there.
        let there = self.first(at(depth), way.start).s;
        if there < f64::INFINITY && (there - sight.s).abs() > SURE {
            return Least::Unknown;
        }
        Least::At(depth, sight)
    }

    /// Where a ray enters what is left.
    fn closely(&self, place: [f64; 2], start: f64) -> Sight {
        match self.bar.span(&self.beam.ray(place)) {
            Some((enter, leave, face)) if leave >= start => Sight { s: enter.max(start), face },
            _ => Sight::MISS,
        }
    }
}

impl Sees for CutBarView {
    fn first(&self, place: [f64; 2], start: f64) -> Sight {
        self.first_and_normal(place, start).0
    }

    fn normal(&self, place: [f64; 2], sight: Sight) -> DVec3 {
        let plane = CutBar::ENDS.iter().position(|&end| end == sight.face).and_then(|end| self.bar.planes[end]);
        let normal = plane.map_or_else(|| self.bar.bar.normal(self.beam.ray(place).at(sight.s)), |plane| plane.normal);
        self.beam.components(normal)
    }

    fn first_and_normal(&self, place: [f64; 2], start: f64) -> (Sight, DVec3) {
        if let Some(round) = &self.round {
            let (sight, normal) = round.first_and_normal(place, start);
            if sight.s == f64::INFINITY {
                return (sight, normal);
            }
            // Where the planes leave the side, a ray enters there or nowhere.
            if let Some(at) = self.on_side(place, sight, start).filter(|&at| self.bar.is_between(at)) {
                return if self.bar.is_left(at) { (sight, normal) } else { (Sight::MISS, DVec3::ZERO) };
            }
        }
        let sight = self.closely(place, start);
        let normal = if sight.s < f64::INFINITY { self.normal(place, sight) } else { DVec3::ZERO };
        (sight, normal)
    }

    /// What is left of a bar is met no sooner than the bar was: where that is met first and is left, both are.
    fn least(&self, place: [f64; 2], inwards: [f64; 2], depth: f64, start: f64) -> Least {
        let Some(round) = &self.round else { return Least::Unknown };
        match round.least(place, inwards, depth, start) {
            Least::At(way, sight) => {
                let there = [place[0] + inwards[0] * way, place[1] + inwards[1] * way];
                let is_there = self.on_side(there, sight, start).is_some_and(|at| self.bar.has(at));
                if is_there {
                    Least::At(way, sight)
                } else {
                    self.least_left(&PlanePath { place, inwards, depth, start, limit: f64::INFINITY }, way)
                }
            }
            other => other,
        }
    }

    fn is_convex(&self) -> bool {
        self.bar.copes.iter().all(Option::is_none)
    }

    /// What is left of a bar is met no sooner than the bar was.
    fn is_convex_at(&self, sight: Sight) -> bool {
        sight.face == 0 || self.is_convex()
    }
}
