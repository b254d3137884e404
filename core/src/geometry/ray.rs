//! Half-lines, alone and as a beam of parallel ones.

use super::DVec3;

/// Points `origin + s * direction`, `direction` of unit length, `s` in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ray {
    /// Where `s` is 0.
    pub origin: DVec3,
    /// Unit direction.
    pub direction: DVec3,
}

impl Ray {
    /// The point at parameter `s`.
    #[must_use]
    #[inline]
    pub fn at(&self, s: f64) -> DVec3 {
        self.origin + self.direction * s
    }
}

/// All rays in one direction, one through each point of a plane square to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beam {
    /// Origin of the plane, where `s` is 0 on every ray.
    pub origin: DVec3,
    /// Unit direction of the plane's first coordinate.
    pub x: DVec3,
    /// Unit direction of the plane's second coordinate, square to the first.
    pub y: DVec3,
    /// Unit direction of the rays, square to both.
    pub direction: DVec3,
}

impl Beam {
    /// The ray through a place of the plane.
    #[must_use]
    pub fn ray(&self, [x, y]: [f64; 2]) -> Ray {
        Ray { origin: self.origin + self.x * x + self.y * y, direction: self.direction }
    }

    /// Components of a vector along the plane's coordinates and along the rays.
    #[must_use]
    pub fn components(&self, vector: DVec3) -> DVec3 {
        DVec3::new(vector.dot(self.x), vector.dot(self.y), vector.dot(self.direction))
    }

    /// How far the plane's places lie from `point` along `along`.
    pub(super) fn height(&self, point: DVec3, along: DVec3) -> Height {
        Height { middle: (self.origin - point).dot(along), slope: [self.x.dot(along), self.y.dot(along)] }
    }
}

/// The part of a beam that is looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Field {
    /// Distance from the beam's origin within which rays lie, mm.
    pub reach: f64,
    /// Parameter from which they look for their first hit.
    pub start: f64,
    /// Parameter beyond which a hit no longer counts.
    pub limit: f64,
}

/// A linear function over the plane of a beam.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Height {
    /// At the origin.
    pub middle: f64,
    /// For 1 mm of each coordinate.
    pub slope: [f64; 2],
}

impl Height {
    #[inline]
    pub(super) fn at(&self, place: [f64; 2]) -> f64 {
        self.middle + self.change(place)
    }

    /// Least and greatest value within `reach` of the origin.
    pub(super) fn range(&self, reach: f64) -> [f64; 2] {
        let most = reach * libm::hypot(self.slope[0], self.slope[1]);
        [self.middle - most, self.middle + most]
    }

    /// Change of the function over a step in the plane.
    #[inline]
    pub(super) fn change(&self, [x, y]: [f64; 2]) -> f64 {
        self.slope[0] * x + self.slope[1] * y
    }
}
