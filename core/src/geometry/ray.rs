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

    /// Least distance between a stretch of this ray and one of another, each from one parameter to a greater one, mm.
    ///
    /// Formula: the common perpendicular, moved back to the ends of either stretch.
    #[must_use]
    pub fn apart(&self, [from, to]: [f64; 2], other: &Self, [start, end]: [f64; 2]) -> f64 {
        let between = self.origin - other.origin;
        let along = self.direction.dot(other.direction);
        let (here, there) = (self.direction.dot(between), other.direction.dot(between));
        let square = 1.0 - along * along;
        let foot = if square > 1e-12 { ((along * there - here) / square).clamp(from, to) } else { from };
        let partner = (along * foot + there).clamp(start, end);
        let foot = (along * partner - here).clamp(from, to);
        self.at(foot).distance(other.at(partner))
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stretches_lie_as_far_apart_as_their_nearest_places() {
        let ray = |origin: [f64; 3], direction: [f64; 3]| Ray {
            origin: DVec3::from_array(origin),
            direction: DVec3::from_array(direction).normalize(),
        };
        let x = ray([0.0; 3], [1.0, 0.0, 0.0]);
        let apart = |other: &Ray, stretch| x.apart([-10.0, 10.0], other, stretch);
        // Crossing overhead, ending short of it, beside its end, in line with it, along it.
        assert_eq!(apart(&ray([3.0, -5.0, 4.0], [0.0, 1.0, 0.0]), [0.0, 10.0]), 4.0);
        assert_eq!(apart(&ray([3.0, -8.0, 4.0], [0.0, 1.0, 0.0]), [0.0, 5.0]), 5.0);
        assert_eq!(apart(&ray([13.0, -5.0, 4.0], [0.0, 1.0, 0.0]), [0.0, 10.0]), 5.0);
        assert_eq!(apart(&ray([16.0, 0.0, 0.0], [1.0, 0.0, 0.0]), [0.0, 10.0]), 6.0);
        assert_eq!(apart(&ray([30.0, 7.0, 0.0], [-1.0, 0.0, 0.0]), [0.0, 100.0]), 7.0);
    }

    #[test]
    fn no_two_places_of_two_stretches_lie_nearer_than_that() {
        let mut seed = 7u32;
        let mut next = || {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(seed >> 8) / f64::from(1 << 23) - 1.0
        };
        for _ in 0..200 {
            let mut ray = || Ray {
                origin: DVec3::new(next(), next(), next()) * 10.0,
                direction: DVec3::new(next(), next(), next() + 1.5).normalize(),
            };
            let (a, b) = (ray(), ray());
            let (first, second) = ([next() - 4.0, next() + 4.0], [next(), next() + 8.0]);
            let place = |[from, to]: [f64; 2], step: u32| from + (to - from) * f64::from(step) / 60.0;
            let pairs = (0..=60).flat_map(|i| (0..=60).map(move |j| (i, j)));
            let sampled = pairs.map(|(i, j)| a.at(place(first, i)).distance(b.at(place(second, j))));
            let sampled = sampled.fold(f64::INFINITY, f64::min);
            let apart = a.apart(first, &b, second);
            assert!(apart <= sampled + 1e-12 && apart > sampled - 0.3, "{apart} {sampled}");
        }
    }
}
