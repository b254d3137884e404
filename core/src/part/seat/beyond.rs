//! Targets that stop too soon: how far one would have to run on past its end.

use super::{Looked, RESOLVED, TOUCHES};
use crate::frame::Target;
use crate::frame::fit::tip;
use crate::geometry::{Cylinder, Piece, Ray, RoundedPrism, least_place};
use crate::part::cut::nearest_to;

/// Places tried round the outline for the furthest.
const TRIED: u32 = 96;

/// Further than this nobody lets a tube run on past a joint, in breadths of the tube (judgement).
const MOST_BREADTHS: f64 = 40.0;

impl Looked<'_> {
    /// Which end of a target a generator passes beyond: it would meet the tube if that ran on, at so many mm past the end. `None`
    /// for one that would pass by all the same, and for an end that is not sawn square.
    pub(super) fn beyond(&self, target: usize, u: f64) -> Option<(usize, f64)> {
        let over = |end: usize| self.over(target, end, u).filter(|&over| over > 0.0).map(|over| (end, over));
        [over(0), over(1)].into_iter().flatten().min_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// How far past an end of a target a generator would meet it if it ran on; negative where it does meet it before its end.
    fn over(&self, target: usize, end: usize, u: f64) -> Option<f64> {
        let Some(&Target::Member(position)) = self.fit.targets.get(target) else { return None };
        let other = &self.frame.members[position];
        if !other.ends[end].kind.is_square() {
            return None;
        }
        let tip = tip(other, end);
        let most = MOST_BREADTHS * self.frame.section(other).breadth();
        let longer = run_on(&self.endless(position, end)?, &tip, most);
        let ray = self.cut.end().generator(u, 0.0);
        let s = match longer.first(&ray, self.cut.start()) {
            // It would lie inside from the start.
            Some(s) if s <= self.cut.start() => return None,
            Some(s) => s,
            None => {
                let (s, by) = nearest_to(&longer, &ray, [self.cut.start(), self.cut.limit()])?;
                (by <= TOUCHES).then_some(s)?
            }
        };
        Some((ray.at(s) - tip.origin).dot(tip.direction))
    }

    /// The leg of a target at one of its ends, as a bar.
    pub(super) fn endless(&self, position: usize, end: usize) -> Option<Piece> {
        let solid = self.frame.solid(Target::Member(position), self.member.gap);
        let last = self.frame.members[position].path.legs.len() - 1;
        solid.pieces().get(if end == 0 { 0 } else { last }).cloned()
    }

    /// How far a target must run on past one of its ends so that every generator for which `needs` holds meets it, mm; `None`
    /// where that mends nothing.
    pub(super) fn run_on(&self, target: usize, end: usize, needs: impl Fn(f64) -> bool) -> Option<f64> {
        let perimeter = self.cut.profile().perimeter();
        let step = perimeter / f64::from(TRIED);
        let over = |u: f64| if needs(u) { self.over(target, end, u).unwrap_or(0.0) } else { 0.0 };
        let places = (0..TRIED).map(|place| step * f64::from(place)).map(|u| (u, over(u)));
        let (u, most) = places.reduce(|best, next| if next.1 > best.1 { next } else { best })?;
        let around = |u: f64| over(u.rem_euclid(perimeter));
        let place = least_place(u - step, u + step, RESOLVED * perimeter, |u| -around(u));
        let most = most.max(around(place));
        (most > 0.0).then_some(most)
    }
}

/// A bar made longer at the end where `tip` is.
fn run_on(bar: &Piece, tip: &Ray, by: f64) -> Piece {
    let longer = |point, axis: crate::geometry::DVec3, length: Option<f64>| {
        let starts_there = axis.dot(tip.direction) < 0.0;
        (if starts_there { point - axis * by } else { point }, length.map(|length| length + by))
    };
    match bar {
        Piece::Cylinder(bar) => {
            let (point, length) = longer(bar.point, bar.axis, bar.length);
            Piece::Cylinder(Cylinder { point, length, ..*bar })
        }
        Piece::Prism(bar) => {
            let (point, length) = longer(bar.point, bar.axis, bar.length);
            Piece::Prism(RoundedPrism { point, length, ..*bar })
        }
        other => other.clone(),
    }
}
