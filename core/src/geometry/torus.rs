//! A bend: the part of a torus between two half-planes through its axis.

use super::quartic::Quartic;
use super::ray::Height;
use super::view::{Sees, Sight};
use super::{Beam, DVec3, Field, Ray, TOUCH};

/// A solid bend of a round bar, swept about `axis` through `centre` from the direction `start` by `angle`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TorusSector {
    /// Centre of the bend.
    pub centre: DVec3,
    /// Unit axis of the bend; the sweep is right-handed about it.
    pub axis: DVec3,
    /// Unit direction from the centre to where the bend starts.
    pub start: DVec3,
    /// Angle of the bend, radians, over 0 and under pi.
    pub angle: f64,
    /// Radius of the centreline, mm.
    pub bend_radius: f64,
    /// Radius of the bar, mm, under `bend_radius`.
    pub radius: f64,
}

impl TorusSector {
    /// Calls `visit(enter, leave)` for each stretch of the ray inside the bend, nearest first.
    ///
    /// Formula: with `s` measured from the ray's closest approach to the centre and lengths divided by
    /// `bend_radius + radius`, `(|X|^2 + Rb^2 - r^2)^2 = 4 Rb^2 (|X|^2 - (X . axis)^2)`, a quartic without cubic term.
    pub fn intervals(&self, ray: &Ray, mut visit: impl FnMut(f64, f64)) {
        let from_centre = ray.origin - self.centre;
        let closest = -from_centre.dot(ray.direction);
        let foot = from_centre + ray.direction * closest;
        let unit = self.bend_radius + self.radius;
        let beta = foot.length_squared() / (unit * unit);
        if beta > 1.0 + 2.0 * TOUCH / unit {
            return;
        }
        let span = (1.0 - beta).max(0.0).sqrt() + TOUCH / unit;
        let (rb, r) = (self.bend_radius / unit, self.radius / unit);
        let (gamma, delta) = (foot.dot(self.axis) / unit, ray.direction.dot(self.axis));
        let quartic = Quartic::of_torus(rb, r, beta, gamma, delta);
        let touch = |s: f64| touching(rb, r, beta, gamma + s * delta, s) / unit;
        let roots = quartic.roots(span, touch);
        for pair in roots.as_slice().chunks_exact(2) {
            self.within_wedge(ray, pair[0] * unit + closest, pair[1] * unit + closest, &mut visit);
        }
    }

    fn within_wedge(&self, ray: &Ray, mut enter: f64, mut leave: f64, visit: &mut impl FnMut(f64, f64)) {
        let (first, last) = self.wedge();
        for inward in [first, last] {
            let slope = ray.direction.dot(inward);
            let height = (ray.origin - self.centre).dot(inward);
            if slope.abs() < 1e-14 {
                if height < 0.0 {
                    return;
                }
            } else if slope > 0.0 {
                enter = enter.max(-height / slope);
            } else {
                leave = leave.min(-height / slope);
            }
        }
        if enter <= leave {
            visit(enter, leave);
        }
    }

    /// Inward normals of the two half-planes that bound the bend.
    fn wedge(&self) -> (DVec3, DVec3) {
        let tangent = self.axis.cross(self.start);
        let (sin, cos) = libm::sincos(self.angle);
        (tangent, self.start * sin - tangent * cos)
    }

    /// True when a point lies between the two half-planes.
    #[must_use]
    pub fn in_wedge(&self, point: DVec3) -> bool {
        let (first, last) = self.wedge();
        let from_centre = point - self.centre;
        from_centre.dot(first) >= -TOUCH && from_centre.dot(last) >= -TOUCH
    }

    /// Outward unit normal at a point of the bar's surface.
    #[must_use]
    pub fn normal(&self, point: DVec3) -> DVec3 {
        let (across, height) = self.parts(point);
        let outwards = across * (1.0 - self.bend_radius / across.length()) + self.axis * height;
        outwards.normalize_or(self.axis)
    }

    /// Signed distance of a point from the surface of the whole ring, negative inside.
    #[must_use]
    pub fn distance(&self, point: DVec3) -> f64 {
        let (across, height) = self.parts(point);
        libm::hypot(across.length() - self.bend_radius, height) - self.radius
    }

    fn parts(&self, point: DVec3) -> (DVec3, f64) {
        let from_centre = point - self.centre;
        let height = from_centre.dot(self.axis);
        (from_centre - self.axis * height, height)
    }
}

/// A bend as a beam sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct TorusView {
    bend_radius: f64,
    radius: f64,
    /// Where the plane's origin lies, seen from the centre.
    origin: [f64; 2],
    /// Parameter at which every ray is nearest to the centre.
    closest: f64,
    axis: DVec3,
    /// The two half-planes: how far inside a ray's origin lies, and their inward normals.
    wedge: [(Height, DVec3); 2],
}

impl TorusView {
    pub(super) fn new(bend: &TorusSector, beam: &Beam) -> Self {
        let from_centre = beam.components(beam.origin - bend.centre);
        let (first, last) = bend.wedge();
        Self {
            bend_radius: bend.bend_radius,
            radius: bend.radius,
            origin: [from_centre.x, from_centre.y],
            closest: -from_centre.z,
            axis: beam.components(bend.axis),
            wedge: [first, last].map(|inward| (beam.height(bend.centre, inward), beam.components(inward))),
        }
    }

    /// False when no ray of the field can meet the bend.
    pub(super) fn is_in_sight(&self, field: &Field) -> bool {
        let Field { reach, start, limit } = *field;
        let unit = self.bend_radius + self.radius + TOUCH;
        let (first, last) = ((self.closest - unit).max(start), (self.closest + unit).min(limit));
        first <= last
            && self
                .wedge
                .iter()
                .all(|(inside, inward)| inside.range(reach)[1] + (first * inward.z).max(last * inward.z) >= 0.0)
    }
}

impl Sees for TorusView {
    /// The same equation as that of [`TorusSector::intervals`], of which only the first entry is sought.
    fn first(&self, place: [f64; 2], start: f64) -> Sight {
        let foot = [self.origin[0] + place[0], self.origin[1] + place[1]];
        let unit = self.bend_radius + self.radius;
        let beta = (foot[0] * foot[0] + foot[1] * foot[1]) / (unit * unit);
        if beta > 1.0 + 2.0 * TOUCH / unit {
            return Sight::MISS;
        }
        let (mut enter, mut leave, mut face) = (start, f64::INFINITY, 0);
        for (number, (inside, inward)) in (1..).zip(&self.wedge) {
            let inside = inside.at(place);
            if inward.z.abs() < 1e-14 {
                if inside < 0.0 {
                    return Sight::MISS;
                }
            } else if inward.z > 0.0 {
                let at = -inside / inward.z;
                if at > enter {
                    (enter, face) = (at, number);
                }
            } else {
                leave = leave.min(-inside / inward.z);
            }
        }
        let span = (1.0 - beta).max(0.0).sqrt() + TOUCH / unit;
        let (cut_on, cut_off) = ((enter - self.closest) / unit, (leave - self.closest) / unit);
        let (from, to) = (cut_on.max(-span), cut_off.min(span));
        if from > to {
            return Sight::MISS;
        }
        let gamma = (foot[0] * self.axis.x + foot[1] * self.axis.y) / unit;
        let quartic = Quartic::of_torus(self.bend_radius / unit, self.radius / unit, beta, gamma, self.axis.z);
        if quartic.at(from) <= 0.0 {
            // Inside where the search begins: at a cut end, at `start`, or where the ray just touches.
            return if cut_on < -span {
                Sight { s: from * unit + self.closest, face: 0 }
            } else {
                Sight { s: enter, face }
            };
        }
        let touch =
            |s: f64| touching(self.bend_radius / unit, self.radius / unit, beta, gamma + s * self.axis.z, s) / unit;
        quartic.first_entry(from, to, touch).map_or(Sight::MISS, |s| Sight { s: s * unit + self.closest, face: 0 })
    }

    fn normal(&self, place: [f64; 2], sight: Sight) -> DVec3 {
        if let Some((_, inward)) = usize::from(sight.face).checked_sub(1).and_then(|cut| self.wedge.get(cut)) {
            return -*inward;
        }
        let from_centre = DVec3::new(self.origin[0] + place[0], self.origin[1] + place[1], sight.s - self.closest);
        let height = from_centre.dot(self.axis);
        let across = from_centre - self.axis * height;
        let outwards = across * (1.0 - self.bend_radius / across.length()) + self.axis * height;
        outwards.normalize_or(self.axis)
    }

    fn is_convex(&self) -> bool {
        false
    }
}

/// The value of the quartic at a ray that passes the surface by [`TOUCH`], lengths being parts of the unit, times the unit.
///
/// Near the surface the quartic is the distance from the bar's surface times `2 r` times its other factor.
fn touching(rb: f64, r: f64, beta: f64, height: f64, s: f64) -> f64 {
    let square = beta + s * s;
    let other = square + rb * rb - r * r + 2.0 * rb * (square - height * height).max(0.0).sqrt();
    2.0 * r * other * TOUCH
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quarter() -> TorusSector {
        TorusSector {
            centre: DVec3::ZERO,
            axis: DVec3::Z,
            start: DVec3::X,
            angle: core::f64::consts::FRAC_PI_2,
            bend_radius: 100.0,
            radius: 20.0,
        }
    }

    fn stretches(ray: &Ray) -> Vec<(f64, f64)> {
        let mut found = Vec::new();
        quarter().intervals(ray, |enter, leave| found.push((enter, leave)));
        found
    }

    #[test]
    fn rays_through_the_axis_meet_the_bar_where_they_must() {
        let diagonal = DVec3::new(1.0, 1.0, 0.0).normalize();
        let found = stretches(&Ray { origin: diagonal * 300.0, direction: -diagonal });
        assert_eq!(found.len(), 1, "the far side of the ring is not part of the bend");
        assert!((found[0].0 - 180.0).abs() < 1e-9 && (found[0].1 - 220.0).abs() < 1e-9);
    }

    #[test]
    fn a_grazing_ray_touches_and_a_passing_one_does_not() {
        let across = |z: f64| Ray { origin: DVec3::new(200.0, 80.0, z), direction: -DVec3::X };
        assert_eq!(stretches(&across(20.0)).len(), 1);
        assert!(stretches(&across(20.0 + 1e-5)).is_empty());
    }
}
