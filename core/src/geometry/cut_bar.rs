//! Straight bars as they are left by what was cut off their ends: by planes, and by what they were coped to.

use super::cylinder::CylinderView;
use super::view::{Least, Sees, Sight, View};
use super::{Beam, Cylinder, DVec3, Field, HalfSpace, Piece, PlanePath, Ray, TOUCH};
use std::sync::Arc;

/// A straight bar less what its ends lost.
#[derive(Debug, Clone, PartialEq)]
pub struct CutBar {
    /// The bar, reaching past the cuts.
    pub bar: Box<Piece>,
    /// Planes of its first and last end; it fills the half-spaces.
    pub planes: [Option<HalfSpace>; 2],
    /// What its first and last end were coped to.
    pub copes: [Option<Cope>; 2],
}

/// What stood in the way when the end of a bar was coped: the bar's lines end where they come upon it.
#[derive(Debug, Clone, PartialEq)]
pub struct Cope {
    /// The bar's lines, from the drawn end of its axis out of the body; a line that comes upon nothing ends beside that.
    pub lines: Beam,
    /// How far inside the body the lines begin, mm.
    pub back: f64,
    /// How far out all of them reach at least, mm.
    pub least: f64,
    /// What they come upon.
    pub obstacles: Arc<[Obstacle]>,
}

/// A piece that stood in the way of a bar's lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Obstacle {
    piece: Piece,
    view: View,
}

impl Obstacle {
    /// `None` where no line within `reach` of the axis comes upon the piece, from `back` inside the body on.
    #[must_use]
    pub fn new(piece: Piece, lines: &Beam, reach: f64, back: f64) -> Option<Self> {
        let view = View::new(&piece, lines, &Field { reach, start: -back, limit: f64::INFINITY })?;
        Some(Self { piece, view })
    }

    /// The piece itself.
    #[must_use]
    pub fn piece(&self) -> &Piece {
        &self.piece
    }

    /// Where the line through a place of the bar's section comes upon it, looked for from `back` inside the body on.
    #[must_use]
    pub fn first(&self, place: [f64; 2], back: f64) -> Option<f64> {
        Some(self.view.first(place, -back).s).filter(|&s| s < f64::INFINITY)
    }
}

impl Cope {
    /// Place of a point in the bar's section, and how far out it lies.
    fn seen(&self, point: DVec3) -> ([f64; 2], f64) {
        let DVec3 { x, y, z } = self.lines.components(point - self.lines.origin);
        ([x, y], z)
    }

    /// True when the bar still has the line through a point so far out.
    fn leaves(&self, point: DVec3) -> bool {
        let (place, s) = self.seen(point);
        if s <= self.least.max(-self.back) {
            return s - self.least <= TOUCH;
        }
        let mut is_met = false;
        for first in self.obstacles.iter().filter_map(|obstacle| obstacle.first(place, self.back)) {
            if s - first > TOUCH {
                return false;
            }
            is_met = true;
        }
        is_met || s <= TOUCH
    }

    /// How far a point lies past the place where the line through it ends, mm; negative before it.
    fn past(&self, point: DVec3) -> f64 {
        let (place, s) = self.seen(point);
        if s <= self.least.max(-self.back) {
            return s - self.least;
        }
        let firsts = self.obstacles.iter().filter_map(|obstacle| obstacle.first(place, self.back));
        s - firsts.reduce(f64::min).unwrap_or(0.0)
    }
}

impl CutBar {
    /// Face of the first and of the last end.
    const ENDS: [u8; 2] = [1, 2];

    /// Where the ray enters and leaves, and the face that it enters by; `None` when it passes by.
    fn span(&self, ray: &Ray) -> Option<(f64, f64, u8)> {
        let mut bar = None;
        self.bar.intervals(ray, |enter, leave| bar = Some((enter, leave)));
        let (mut enter, mut leave) = bar?;
        let mut face = 0;
        for (plane, end) in self.planes.iter().zip(Self::ENDS) {
            let Some(plane) = plane else { continue };
            // A ray along the edge between two bars that share the plane must find one of them.
            let widened = HalfSpace { point: plane.point + plane.normal * TOUCH, ..*plane };
            let (from, to) = widened.interval(ray)?;
            if from > enter {
                (enter, face) = (from, end);
            }
            leave = leave.min(to);
        }
        (enter <= leave && self.is_left(ray.at(enter))).then_some((enter, leave, face))
    }

    /// True when the planes leave a point.
    fn is_between(&self, point: DVec3) -> bool {
        self.planes.iter().flatten().all(|plane| plane.distance(point) <= TOUCH)
    }

    /// True when the copes leave a point.
    fn is_left(&self, point: DVec3) -> bool {
        self.copes.iter().flatten().all(|cope| cope.leaves(point))
    }

    /// Where the ray is inside; `None` when it passes by.
    #[must_use]
    pub fn interval(&self, ray: &Ray) -> Option<(f64, f64)> {
        self.span(ray).map(|(enter, leave, _)| (enter, leave))
    }

    /// Which of its planes a point of the surface lies on rather than on the bar: 0 for the first end, 1 for the last.
    #[must_use]
    pub fn end_at(&self, point: DVec3) -> Option<usize> {
        let side = self.bar.distance(point);
        (0..2).find(|&end| self.planes[end].is_some_and(|plane| plane.distance(point) > side))
    }

    /// Outward unit normal at a point of the surface.
    #[must_use]
    pub fn normal(&self, point: DVec3) -> DVec3 {
        match self.end_at(point).and_then(|end| self.planes[end]) {
            Some(plane) => plane.normal,
            None => self.bar.normal(point),
        }
    }

    /// Signed distance of a point from the surface, negative inside (a lower bound outside its edges).
    #[must_use]
    pub fn distance(&self, point: DVec3) -> f64 {
        self.planes.iter().flatten().map(|plane| plane.distance(point)).fold(self.bar.distance(point), f64::max)
    }

    /// The place of the bar that lies nearest to a point; where that was coped off, the place where its line ends.
    #[must_use]
    pub fn nearest(&self, point: DVec3) -> DVec3 {
        let whole = self.bar.nearest(point);
        let is_cut = self.planes.iter().flatten().any(|plane| plane.distance(whole) > 0.0);
        let at = if is_cut { self.nearest_between(point) } else { whole };
        self.copes.iter().flatten().fold(at, |at, cope| at - cope.lines.direction * cope.past(at).max(0.0))
    }

    /// The place between its planes that lies nearest to a point.
    ///
    /// Source: R. L. Dykstra, "An algorithm for restricted least squares regression", J. Am. Stat. Assoc. 78 (1983): the point is
    /// put on each convex part in turn, and what that part moved it before is given back first.
    fn nearest_between(&self, point: DVec3) -> DVec3 {
        const ROUNDS: u32 = 60;
        let (mut at, mut given) = (point, [DVec3::ZERO; 3]);
        for _ in 0..ROUNDS {
            let before = at;
            for (part, given) in given.iter_mut().enumerate() {
                let wanted = at + *given;
                at = match part.checked_sub(1).map(|end| self.planes[end]) {
                    None => self.bar.nearest(wanted),
                    Some(Some(plane)) => wanted - plane.normal * plane.distance(wanted).max(0.0),
                    Some(None) => wanted,
                };
                *given = wanted - at;
            }
            if at.distance(before) < 1e-9 {
                break;
            }
        }
        at
    }

    /// True when nothing was cut off at a point of the bar.
    #[must_use]
    pub fn has(&self, point: DVec3) -> bool {
        self.is_between(point) && self.is_left(point)
    }

    /// The round bar that it was, if it is round.
    #[must_use]
    pub fn round(&self) -> Option<&Cylinder> {
        match &*self.bar {
            Piece::Cylinder(bar) => Some(bar),
            _ => None,
        }
    }
}

/// A cut bar as a beam sees it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct CutBarView {
    bar: CutBar,
    beam: Beam,
    /// The bar that it was, where that is a round one seen from the side.
    round: Option<CylinderView>,
}

/// What is left to see of a cut bar.
pub(super) enum Left {
    Nothing,
    /// No ray can meet its cuts first: it is seen as the bar that it was.
    Whole(CylinderView),
    Cut(Box<CutBarView>),
}

impl CutBarView {
    pub(super) fn seen_by(beam: &Beam, field: &Field, bar: &CutBar) -> Left {
        let cut = |round| Left::Cut(Box::new(Self { bar: bar.clone(), beam: *beam, round }));
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
    pub(super) fn first_until(&self, place: [f64; 2], start: f64, limit: f64) -> Sight {
        if self.round.as_ref().is_some_and(|round| round.first(place, start).s > limit) {
            return Sight::MISS;
        }
        self.first(place, start)
    }

    /// False where no ray on a straight way meets the bar that it was before `limit`.
    pub(super) fn may_come_before(&self, way: &PlanePath, limit: f64) -> bool {
        let least = |round: &CylinderView| round.least(way.place, way.inwards, way.depth, way.start);
        match self.round.as_ref().map(least) {
            Some(Least::At(_, sight)) => sight.s < limit,
            Some(Least::Nowhere) => false,
            Some(Least::Unknown) | None => true,
        }
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
                if is_there { Least::At(way, sight) } else { Least::Unknown }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{View, square_to};

    fn bar(planes: [Option<HalfSpace>; 2], copes: [Option<Cope>; 2]) -> CutBar {
        let round = Cylinder { point: DVec3::new(-50.0, 0.0, 0.0), axis: DVec3::X, radius: 10.0, length: Some(300.0) };
        CutBar { bar: Box::new(Piece::Cylinder(round)), planes, copes }
    }

    fn down(x: f64) -> Ray {
        Ray { origin: DVec3::new(x, 0.0, 100.0), direction: -DVec3::Z }
    }

    #[test]
    fn a_mitred_bar_ends_at_its_plane() {
        // At 45 degrees through the origin: the outside of the corner reaches a radius past it, the inside stops a radius short.
        let normal = DVec3::new(-1.0, 0.0, -1.0).normalize();
        let mitred = bar([Some(HalfSpace { point: DVec3::ZERO, normal }), None], [None, None]);
        let (enter, leave) = mitred.interval(&down(-9.0)).unwrap();
        assert!((enter - 90.0).abs() < 1e-6 && (leave - 91.0).abs() < 1e-6, "{enter} {leave}");
        assert!(mitred.interval(&down(-10.1)).is_none());
        assert_eq!(mitred.interval(&down(20.0)), Some((90.0, 110.0)));
        assert_eq!(mitred.normal(DVec3::new(0.0, 0.0, 0.0)), normal);
        let nearest = mitred.nearest(DVec3::new(-30.0, 0.0, 10.0));
        // The edge is an ellipse through (-10, 0, 10), its highest point.
        assert!(nearest.distance(DVec3::new(-10.0, 0.0, 10.0)) < 1e-3, "{nearest}");
    }

    #[test]
    fn behind_the_open_end_of_what_was_cut_off_nothing_is_met() {
        // The rays come in by the end of the bar that it was, behind the place where its side would have been met.
        let point = DVec3::new(-30.623_47, -24.088_326, -16.017_807);
        let axis = DVec3::new(-0.171_904_79, -0.061_109_83, 0.983_216_32).normalize();
        let round = Cylinder { point, axis, radius: 35.297_12, length: Some(86.814_897) };
        let normal = DVec3::new(-0.194_380_742, 0.675_611_949, -0.711_171_302).normalize();
        let planes = [Some(HalfSpace { point, normal }), None];
        let piece = Piece::Cut(Box::new(CutBar { bar: Box::new(Piece::Cylinder(round)), planes, copes: [None, None] }));
        let direction = DVec3::new(0.030_003_177, 0.966_989_962, 0.253_041_937).normalize();
        let x = square_to(direction, DVec3::new(0.006_728_634, -0.253_345_564, 0.967_352_444)).unwrap();
        let origin = DVec3::new(16.013_228, 1.279_513, 11.954_688);
        let beam = Beam { origin, x, y: x.cross(-direction), direction };
        let field = Field { reach: 25.0, start: -300.0, limit: 300.0 };
        let view = View::new(&piece, &beam, &field).unwrap();
        let mut missed = 0;
        for step in 0..=80 {
            let along = 25.0 - 0.0125 * f64::from(step);
            let place = [-0.752_81 * along, -0.658_24 * along];
            let alone = piece.first(&beam.ray(place), field.start).unwrap_or(f64::INFINITY);
            let seen = view.first(place, field.start).s;
            missed += u32::from(alone == f64::INFINITY);
            assert!(alone == seen || (alone - seen).abs() < 1e-6, "{step} {alone} {seen}");
        }
        assert!(missed > 0 && missed < 80);
    }

    #[test]
    fn a_coped_bar_ends_where_its_lines_come_upon_the_other() {
        let post = Cylinder { point: DVec3::new(0.0, 0.0, -500.0), axis: DVec3::Z, radius: 15.0, length: Some(1000.0) };
        let lines = Beam { origin: DVec3::ZERO, x: DVec3::Y, y: -DVec3::Z, direction: -DVec3::X };
        let obstacles = Obstacle::new(Piece::Cylinder(post), &lines, 10.0, 100.0).into_iter().collect();
        let cope = Cope { lines, back: 100.0, least: -15.0, obstacles };
        let coped = bar([None, None], [Some(cope), None]);
        assert!(coped.interval(&down(15.1)).is_some());
        assert!(coped.interval(&down(14.9)).is_none(), "inside the post nothing is left of it");
        assert!(coped.interval(&down(-20.0)).is_none(), "nor behind the post");
    }
}
