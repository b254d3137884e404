//! Flat plates: an outline with a thickness.

use super::{Beam, DVec3, HalfSpace, Outline, Ray};
use std::sync::Arc;

/// A solid plate: its outline swept along the normal by its thickness. Holes are not seen: a tube is fitted to its outside.
#[derive(Debug, Clone, PartialEq)]
pub struct Plate {
    /// Where the outline's origin lies, on the face that the normal leaves behind.
    pub origin: DVec3,
    /// Unit direction of the outline's x axis.
    pub along: DVec3,
    /// Unit direction of the outline's y axis, square to `along`.
    pub across: DVec3,
    /// The outline.
    pub outline: Arc<Outline>,
    /// Thickness, mm, along `along x across`.
    pub thickness: f64,
}

impl Plate {
    /// Unit normal, from the face at the origin to the other face.
    #[must_use]
    pub fn up(&self) -> DVec3 {
        self.along.cross(self.across)
    }

    /// Place of a point in the plate's own coordinates: x and y of the outline, and height over the face at the origin.
    #[must_use]
    pub fn own(&self, point: DVec3) -> [f64; 3] {
        let rest = point - self.origin;
        [rest.dot(self.along), rest.dot(self.across), rest.dot(self.up())]
    }

    /// The point in space at a place of the outline and a height over the face at the origin.
    #[must_use]
    pub fn point(&self, [x, y]: [f64; 2], height: f64) -> DVec3 {
        self.origin + self.along * x + self.across * y + self.up() * height
    }

    /// Calls `visit(enter, leave)` for each stretch of the ray inside, nearest first.
    pub fn intervals(&self, ray: &Ray, mut visit: impl FnMut(f64, f64)) {
        let [x, y, height] = self.own(ray.origin);
        let way = [ray.direction.dot(self.along), ray.direction.dot(self.across)];
        let climb = ray.direction.dot(self.up());
        let (mut enter, mut leave) = (f64::NEG_INFINITY, f64::INFINITY);
        if climb.abs() < 1e-12 {
            if !(0.0..=self.thickness).contains(&height) {
                return;
            }
        } else {
            let (a, b) = (-height / climb, (self.thickness - height) / climb);
            (enter, leave) = (a.min(b), a.max(b));
        }
        if libm::hypot(way[0], way[1]) < 1e-9 {
            if self.outline.contains([x, y]) {
                visit(enter, leave);
            }
            return;
        }
        for (first, last) in self.outline.stretches([x, y], way) {
            if first.max(enter) <= last.min(leave) {
                visit(first.max(enter), last.min(leave));
            }
        }
    }

    /// Outward unit normal at a point of the surface.
    #[must_use]
    pub fn normal(&self, point: DVec3) -> DVec3 {
        let [x, y, height] = self.own(point);
        let beyond_face = (-height).max(height - self.thickness);
        let edge = self.outline.distance([x, y]);
        if beyond_face >= edge {
            return if height > self.thickness / 2.0 { self.up() } else { -self.up() };
        }
        const STEP: f64 = 1e-4;
        let slope = [
            self.outline.distance([x + STEP, y]) - self.outline.distance([x - STEP, y]),
            self.outline.distance([x, y + STEP]) - self.outline.distance([x, y - STEP]),
        ];
        (self.along * slope[0] + self.across * slope[1]).normalize_or(self.up())
    }

    /// Signed distance of a point from the surface, negative inside (a lower bound outside the edges).
    #[must_use]
    pub fn distance(&self, point: DVec3) -> f64 {
        let [x, y, height] = self.own(point);
        (-height).max(height - self.thickness).max(self.outline.distance([x, y]))
    }

    /// How far a point lies outside, mm; 0 inside.
    #[must_use]
    pub fn away(&self, point: DVec3) -> f64 {
        let [x, y, height] = self.own(point);
        let over = (-height).max(height - self.thickness);
        libm::hypot(over.max(0.0), self.outline.distance([x, y]).max(0.0))
    }

    /// The face that a beam meets, when all rays within `reach` of its origin pass through it and none through the edge.
    #[must_use]
    pub fn face_before(&self, beam: &Beam, reach: f64) -> Option<HalfSpace> {
        let climb = beam.direction.dot(self.up());
        if climb.abs() < 0.02 {
            return None;
        }
        let (height, normal) = if climb < 0.0 { (self.thickness, self.up()) } else { (0.0, -self.up()) };
        let [x, y, z] = self.own(beam.origin);
        let s = (height - z) / climb;
        let met = [x + s * beam.direction.dot(self.along), y + s * beam.direction.dot(self.across)];
        // The rays fill an ellipse on the face.
        let is_within = self.outline.distance(met) < -reach / climb.abs();
        is_within.then(|| HalfSpace { point: self.point(met, height), normal })
    }

    /// A ball that holds it: centre and radius.
    #[must_use]
    pub fn ball(&self) -> (DVec3, f64) {
        let (low, high) = self.outline.bounds();
        let middle = [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0];
        let half = libm::hypot(high[0] - low[0], high[1] - low[1]) / 2.0;
        (self.point(middle, self.thickness / 2.0), libm::hypot(half, self.thickness / 2.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Edge;

    #[test]
    fn rays_enter_at_the_face_or_at_the_edge() {
        let corner = [[0.0, 0.0], [100.0, 0.0], [100.0, 60.0], [0.0, 60.0]];
        let edges = (0..4).map(|k| Edge::Line { from: corner[k], to: corner[(k + 1) % 4] }).collect();
        let plate = Plate {
            origin: DVec3::ZERO,
            along: DVec3::X,
            across: DVec3::Y,
            outline: Arc::new(Outline { edges }),
            thickness: 5.0,
        };
        let first = |origin: DVec3, direction: DVec3| {
            let mut found = Vec::new();
            plate.intervals(&Ray { origin, direction }, |enter, leave| found.push((enter, leave)));
            found
        };
        assert_eq!(first(DVec3::new(50.0, 30.0, 40.0), -DVec3::Z), vec![(35.0, 40.0)]);
        let slanted = DVec3::new(1.0, 0.0, -1.0).normalize();
        let found = first(DVec3::new(-10.0, 30.0, 12.5), slanted);
        // Along the slant the edge plane x = 0 is met at height 2.5, below the upper face and above the lower one.
        assert!((found[0].0 - 10.0 * std::f64::consts::SQRT_2).abs() < 1e-9, "{found:?}");
        assert_eq!(plate.normal(DVec3::new(0.0, 30.0, 2.5)).round(), -DVec3::X);
        assert_eq!(plate.normal(DVec3::new(50.0, 30.0, 5.0)), DVec3::Z);
        assert!(first(DVec3::new(120.0, 30.0, 40.0), -DVec3::Z).is_empty());
    }
}
