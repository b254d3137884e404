//! What was taken off a bar that was coped.

use crate::geometry::{Beam, DVec3, Field, Piece, Ray, TOUCH, View, least_place};
use std::sync::Arc;

/// A line that passes by no more than this ends beside what it passes, mm: it touches (`part::TOUCHES`).
const BESIDE: f64 = 0.05;

/// What stood in the way when the end of a bar was coped: the bar's lines end where they come upon it.
#[derive(Debug, Clone, PartialEq)]
pub struct Cope {
    /// The bar's lines, from the drawn end of its axis out of the body; a line that only touches ends beside that, and one that
    /// passes by runs on.
    pub lines: Beam,
    /// How far inside the body the lines begin, mm.
    pub back: f64,
    /// How far out all of them reach at least, mm.
    pub least: f64,
    /// What they come upon.
    pub obstacles: Arc<[Obstacle]>,
    /// False where lines that pass everything are not looked for.
    pub runs_on: bool,
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

    /// True when a ray from `back` inside the body on passes it by more than touches.
    fn is_passed(&self, ray: &Ray, back: f64) -> bool {
        if let Piece::Cylinder(bar) = &self.piece
            && let Some(by) = bar.beside(ray)
        {
            return by > BESIDE;
        }
        let ball = self.piece.ball();
        let reach = ball.map_or(0.0, |(centre, radius)| (centre - ray.origin).dot(ray.direction) + radius);
        if self.piece.apart_at_least(ray, [-back, reach.max(0.0)]) > BESIDE {
            return true;
        }
        let nearest = least_place(-back, reach.max(0.0), 1e-3, |s| self.piece.away(ray.at(s)));
        self.piece.away(ray.at(nearest)) > BESIDE
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
    pub(super) fn leaves(&self, point: DVec3) -> bool {
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
        is_met || s <= TOUCH || self.passes_by(place)
    }

    /// True when a line passes everything by more than touches, so that nothing ends it.
    fn passes_by(&self, place: [f64; 2]) -> bool {
        if !self.runs_on {
            return false;
        }
        let ray = self.lines.ray(place);
        self.obstacles.iter().all(|obstacle| obstacle.is_passed(&ray, self.back))
    }

    /// How far a point lies past the place where the line through it ends, mm; negative before it.
    pub(super) fn past(&self, point: DVec3) -> f64 {
        let (place, s) = self.seen(point);
        if s <= self.least.max(-self.back) {
            return s - self.least;
        }
        let firsts = self.obstacles.iter().filter_map(|obstacle| obstacle.first(place, self.back));
        match firsts.reduce(f64::min) {
            Some(first) => s - first,
            None if self.passes_by(place) => f64::NEG_INFINITY,
            None => s,
        }
    }
}
