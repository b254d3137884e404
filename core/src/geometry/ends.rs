//! The square ends of a bar as a beam sees them.

use super::ray::Height;
use super::{Beam, DVec3};

/// The ends of a bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Ends {
    /// Where along the bar a ray's origin lies.
    along: Height,
    /// One over how fast a ray goes along the bar; infinite where it goes square to it.
    pace: f64,
    pub(super) length: f64,
    axis: DVec3,
}

impl Ends {
    /// Face of the end at the bar's point.
    pub(super) const FIRST: u8 = 1;

    /// Face of the other end.
    pub(super) const LAST: u8 = 2;

    pub(super) fn new(point: DVec3, axis: DVec3, length: f64, beam: &Beam) -> Self {
        let rate = beam.direction.dot(axis);
        Self {
            along: beam.height(point, axis),
            pace: if rate.abs() < 1e-12 { f64::INFINITY } else { 1.0 / rate },
            length,
            axis: beam.components(axis),
        }
    }

    /// Outward normal of an end.
    pub(super) fn normal(&self, face: u8) -> DVec3 {
        if face == Self::FIRST { -self.axis } else { self.axis }
    }

    /// Least and greatest place along the bar of all rays within `reach` between two parameters.
    pub(super) fn along_between(&self, reach: f64, first: f64, last: f64) -> [f64; 2] {
        let [low, high] = self.along.range(reach);
        let (one, other) = if self.pace.is_infinite() { (0.0, 0.0) } else { (first / self.pace, last / self.pace) };
        [low + one.min(other), high + one.max(other)]
    }

    /// Where a ray passes the ends, and which of them first.
    #[inline]
    pub(super) fn between(&self, place: [f64; 2]) -> (f64, f64, u8) {
        let along = self.along.at(place);
        if self.pace.is_infinite() {
            let is_between = (0.0..=self.length).contains(&along);
            return if is_between { (f64::NEG_INFINITY, f64::INFINITY, 0) } else { (f64::INFINITY, f64::INFINITY, 0) };
        }
        let (one, other) = (-along * self.pace, (self.length - along) * self.pace);
        if self.pace > 0.0 { (one, other, Self::FIRST) } else { (other, one, Self::LAST) }
    }
}
