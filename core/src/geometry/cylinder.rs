//! Round bars, endless or cut square at both ends.

use super::ends::Ends;
use super::ray::Height;
use super::view::{Least, Sees, Sight};
use super::{Beam, DVec3, Field, Ray, TOUCH};

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
    #[inline]
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

    /// The place in the bar that lies nearest to a point.
    #[must_use]
    pub fn nearest(&self, point: DVec3) -> DVec3 {
        let from_point = point - self.point;
        let along = from_point.dot(self.axis);
        let radial = from_point - self.axis * along;
        let within = self.length.map_or(along, |length| along.clamp(0.0, length));
        self.point + self.axis * within + radial.clamp_length_max(self.radius)
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

/// A bar as a beam that is not parallel to it sees it.
///
/// Formula: with `sine` of the angle between bar and beam, a ray passes the axis at the distance `aside` and enters at
/// `s = (-ahead - sqrt(radius^2 - aside^2)) / sine`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct CylinderView {
    radius: f64,
    sine: f64,
    /// One over the sine.
    stretch: f64,
    /// One over the radius.
    curvature: f64,
    /// Distance of a ray from the axis, with its sign.
    aside: Height,
    /// How far beyond the axis a ray's origin lies, square to the axis.
    ahead: Height,
    ends: Option<Ends>,
}

impl CylinderView {
    /// `None` when the beam is parallel to the bar.
    pub(super) fn new(bar: &Cylinder, beam: &Beam) -> Option<Self> {
        let rate = beam.direction.dot(bar.axis);
        let across = beam.direction - bar.axis * rate;
        let sine = across.length();
        if sine < 1e-9 {
            return None;
        }
        let ends = bar.length.map(|length| Ends::new(bar.point, bar.axis, length, beam));
        let across = across / sine;
        Some(Self {
            radius: bar.radius,
            sine,
            stretch: 1.0 / sine,
            curvature: 1.0 / bar.radius,
            aside: beam.height(bar.point, bar.axis.cross(across)),
            ahead: beam.height(bar.point, across),
            ends,
        })
    }

    /// The bar as the rays of a field see it: `None` when none of them can meet it, without its ends when none of them can meet
    /// those first.
    pub(super) fn within(mut self, field: &Field) -> Option<Self> {
        let reach = field.reach + TOUCH;
        let [low, high] = self.aside.range(reach);
        if low > self.radius || high < -self.radius {
            return None;
        }
        let [low, high] = self.ahead.range(reach);
        let (first, middle, last) =
            ((-high - self.radius) * self.stretch, -low * self.stretch, (self.radius - low) * self.stretch);
        if first > field.limit || last < field.start {
            return None;
        }
        if let Some(ends) = &self.ends {
            let [low, high] = ends.along_between(reach, first.max(field.start), last.min(field.limit));
            if low > ends.length || high < 0.0 {
                return None;
            }
            let [low, high] = ends.along_between(reach, first, middle);
            if first > field.start && low > 0.0 && high < ends.length {
                self.ends = None;
            }
        }
        Some(self)
    }

    /// Between which parameters all rays within `reach` enter it, if they meet it: by its side on the near half, by an end
    /// anywhere before they leave.
    pub(super) fn entries(&self, reach: f64) -> [f64; 2] {
        let [low, high] = self.ahead.range(reach + TOUCH);
        let last = if self.is_endless() { -low } else { self.radius - low };
        [(-high - self.radius) * self.stretch, last * self.stretch]
    }

    /// True when the rays meet no end of the bar.
    pub(super) fn is_endless(&self) -> bool {
        self.ends.is_none()
    }

    /// Outward normal at a point that lies so far from the axis, aside of the rays and along them.
    #[inline]
    fn radial(&self, aside: f64, ahead: f64) -> DVec3 {
        let (aside, ahead) = (aside * self.curvature, ahead * self.curvature);
        DVec3::new(
            aside * self.aside.slope[0] + ahead * self.ahead.slope[0],
            aside * self.aside.slope[1] + ahead * self.ahead.slope[1],
            ahead * self.sine,
        )
    }
}

impl Sees for CylinderView {
    #[inline]
    fn first(&self, place: [f64; 2], start: f64) -> Sight {
        self.first_and_normal(place, start).0
    }

    fn normal(&self, place: [f64; 2], sight: Sight) -> DVec3 {
        match &self.ends {
            Some(ends) if sight.face != 0 => ends.normal(sight.face),
            _ => self.radial(self.aside.at(place), self.ahead.at(place) + sight.s * self.sine),
        }
    }

    #[inline]
    fn first_and_normal(&self, place: [f64; 2], start: f64) -> (Sight, DVec3) {
        let aside = self.aside.at(place);
        let square = (self.radius - aside) * (self.radius + aside);
        if square < -2.0 * self.radius * TOUCH {
            return (Sight::MISS, DVec3::ZERO);
        }
        let root = square.max(0.0).sqrt();
        let ahead = self.ahead.at(place);
        let (mut enter, mut leave, mut face) = ((-ahead - root) * self.stretch, (root - ahead) * self.stretch, 0);
        if let Some(ends) = &self.ends {
            let (near, far, end) = ends.between(place);
            if near > enter {
                (enter, face) = (near, end);
            }
            leave = leave.min(far);
        }
        if !(enter <= leave && leave >= start) {
            return (Sight::MISS, DVec3::ZERO);
        }
        if enter < start || face != 0 {
            let sight = Sight { s: enter.max(start), face };
            return (sight, self.normal(place, sight));
        }
        (Sight { s: enter, face }, self.radial(aside, -root))
    }

    /// Least station on the way from `place` by `depth` along the unit vector `inwards`.
    ///
    /// Formula: the station is a convex function of the way gone, least where
    /// `aside = radius x ahead' sign(aside') / sqrt(ahead'^2 + aside'^2)`, the dashes being changes for 1 mm of way; only where
    /// neither an end of the bar nor `start` comes first.
    fn least(&self, place: [f64; 2], inwards: [f64; 2], depth: f64, start: f64) -> Least {
        let aside = self.aside.at(place);
        let (change, ahead_change) = (self.aside.change(inwards), self.ahead.change(inwards));
        let way = if change.abs() < 1e-12 {
            if aside.abs() > self.radius + 2.0 * TOUCH {
                return Least::Nowhere;
            }
            if ahead_change > 0.0 { depth } else { 0.0 }
        } else {
            let (one, other) = ((-self.radius - aside) / change, (self.radius - aside) / change);
            let (first, last) = (one.min(other).max(0.0), one.max(other).min(depth));
            if first > last {
                let beyond = if one.max(other) < 0.0 { aside } else { aside + change * depth };
                return if beyond.abs() > self.radius + 2.0 * TOUCH { Least::Nowhere } else { Least::Unknown };
            }
            let turning =
                self.radius * ahead_change * change.signum() / (ahead_change * ahead_change + change * change).sqrt();
            ((turning - aside) / change).clamp(first, last)
        };
        let sight = self.first([place[0] + inwards[0] * way, place[1] + inwards[1] * way], start);
        if sight.face == 0 && sight.s > start && sight.s < f64::INFINITY {
            Least::At(way, sight)
        } else {
            Least::Unknown
        }
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
