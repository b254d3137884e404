//! Everything on one side of a plane.

use super::{DVec3, Ray};

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
