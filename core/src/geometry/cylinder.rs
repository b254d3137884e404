//! Round bars, endless or cut square at both ends.

use super::{DVec3, Ray, TOUCH};

/// A solid round bar about an axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cylinder {
    /// A point of the axis, where a bar with ends starts.
    pub point: DVec3,
    /// Unit direction of the axis.
    pub axis: DVec3,
    /// Radius, mm.
    pub radius: f64,
    /// Length from `point` along `axis`, mm; `None` for an endless bar.
    pub length: Option<f64>,
}

impl Cylinder {
    /// Where the ray is inside; `None` when it passes by.
    ///
    /// Formula: with `w` and `d` the parts of `origin - point` and `direction` square to the axis,
    /// `|w + s d|^2 = radius^2`. A ray that passes within [`TOUCH`] counts as touching.
    #[must_use]
    pub fn interval(&self, ray: &Ray) -> Option<(f64, f64)> {
        let from_point = ray.origin - self.point;
        let along = ray.direction.dot(self.axis);
        let w = from_point - self.axis * from_point.dot(self.axis);
        let d = ray.direction - self.axis * along;
        let a = d.length_squared();
        let c = w.length_squared() - self.radius * self.radius;
        let mut span = if a < 1e-18 {
            if c > 0.0 {
                return None;
            }
            (f64::NEG_INFINITY, f64::INFINITY)
        } else {
            let b = w.dot(d);
            let discriminant = b * b - a * c;
            if discriminant < -2.0 * self.radius * a * TOUCH {
                return None;
            }
            let root = discriminant.max(0.0).sqrt();
            ((-b - root) / a, (-b + root) / a)
        };
        if let Some(length) = self.length {
            let start = from_point.dot(self.axis);
            if along.abs() < 1e-12 {
                if !(0.0..=length).contains(&start) {
                    return None;
                }
            } else {
                let (first, last) = (-start / along, (length - start) / along);
                span = (span.0.max(first.min(last)), span.1.min(first.max(last)));
                if span.0 > span.1 {
                    return None;
                }
            }
        }
        Some(span)
    }

    /// Outward unit normal at a point of the surface.
    #[must_use]
    pub fn normal(&self, point: DVec3) -> DVec3 {
        let (radial, beyond_wall, beyond_end, end) = self.parts(point);
        if beyond_end > beyond_wall { end } else { radial.normalize_or(end) }
    }

    /// Signed distance of a point from the surface, negative inside (a lower bound outside the corners of an end).
    #[must_use]
    pub fn distance(&self, point: DVec3) -> f64 {
        let (_, beyond_wall, beyond_end, _) = self.parts(point);
        beyond_wall.max(beyond_end)
    }

    fn parts(&self, point: DVec3) -> (DVec3, f64, f64, DVec3) {
        let from_point = point - self.point;
        let along = from_point.dot(self.axis);
        let radial = from_point - self.axis * along;
        let (beyond_end, end) = match self.length {
            None => (f64::NEG_INFINITY, self.axis),
            Some(length) if along > length / 2.0 => (along - length, self.axis),
            Some(_) => (-along, -self.axis),
        };
        (radial, radial.length() - self.radius, beyond_end, end)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ray_that_just_touches_is_a_hit_and_one_beyond_is_not() {
        let bar = Cylinder { point: DVec3::ZERO, axis: DVec3::Z, radius: 20.0, length: None };
        let ray = |y: f64| Ray { origin: DVec3::new(-100.0, y, 3.0), direction: DVec3::X };
        let (first, last) = bar.interval(&ray(20.0)).unwrap();
        assert!((first - 100.0).abs() < 1e-2 && (last - 100.0).abs() < 1e-2);
        assert!(bar.interval(&ray(20.0 + 1e-6)).is_none());
        assert_eq!(bar.interval(&ray(0.0)), Some((80.0, 120.0)));
    }

    #[test]
    fn ends_stop_a_bar() {
        let bar = Cylinder { point: DVec3::ZERO, axis: DVec3::Z, radius: 20.0, length: Some(50.0) };
        let down = Ray { origin: DVec3::new(1.0, 2.0, 100.0), direction: -DVec3::Z };
        assert_eq!(bar.interval(&down), Some((50.0, 100.0)));
        assert_eq!(bar.normal(down.at(50.0)), DVec3::Z);
        let past = Ray { origin: DVec3::new(-100.0, 0.0, 50.1), direction: DVec3::X };
        assert!(bar.interval(&past).is_none());
    }
}
