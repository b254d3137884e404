//! Everything on one side of a plane.

use super::ray::Height;
use super::view::{Least, Sees, Sight};
use super::{Beam, DVec3, Field, Ray};

/// Points `X` with `(X - point) . normal <= 0`; `normal` is a unit vector that points out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HalfSpace {
    /// A point of the plane.
    pub point: DVec3,
    /// Unit normal, out of the solid.
    pub normal: DVec3,
}

impl HalfSpace {
    /// Where the ray is inside; `None` when it never is.
    ///
    /// Formula: s = (point - origin) . normal / (direction . normal).
    #[must_use]
    pub fn interval(&self, ray: &Ray) -> Option<(f64, f64)> {
        let approach = ray.direction.dot(self.normal);
        let outside = (ray.origin - self.point).dot(self.normal);
        if approach.abs() < 1e-12 {
            return (outside <= 0.0).then_some((f64::NEG_INFINITY, f64::INFINITY));
        }
        let s = -outside / approach;
        Some(if approach < 0.0 { (s, f64::INFINITY) } else { (f64::NEG_INFINITY, s) })
    }

    /// Signed distance of a point from the surface, negative inside.
    #[must_use]
    pub fn distance(&self, point: DVec3) -> f64 {
        (point - self.point).dot(self.normal)
    }
}

/// A half-space as a beam sees it that comes from outside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct HalfSpaceView {
    outside: Height,
    /// How fast a ray comes nearer to the plane.
    approach: f64,
    normal: DVec3,
}

impl HalfSpaceView {
    /// `None` when the beam does not come from outside.
    pub(super) fn new(half_space: &HalfSpace, beam: &Beam) -> Option<Self> {
        let normal = beam.components(half_space.normal);
        let outside = beam.height(half_space.point, half_space.normal);
        (normal.z < -1e-12).then_some(Self { outside, approach: -normal.z, normal })
    }

    /// True when every ray of the field starts outside.
    pub(super) fn is_after(&self, field: &Field) -> bool {
        self.outside.range(field.reach)[0] > field.start * self.approach
    }
}

impl Sees for HalfSpaceView {
    fn first(&self, place: [f64; 2], start: f64) -> Sight {
        Sight { s: (self.outside.at(place) / self.approach).max(start), face: 0 }
    }

    fn normal(&self, _place: [f64; 2], _sight: Sight) -> DVec3 {
        self.normal
    }

    /// Least station on the way from `place` by `depth` along the unit vector `inwards`: at one end of the way.
    fn least(&self, place: [f64; 2], inwards: [f64; 2], depth: f64, start: f64) -> Least {
        let way = if self.outside.change(inwards) < 0.0 { depth } else { 0.0 };
        Least::At(way, self.first([place[0] + inwards[0] * way, place[1] + inwards[1] * way], start))
    }
}
