//! The surfaces of a tube and of what it is fitted to.

use super::exchange::{Exchange, Id, real};
use crate::geometry::DVec3;

/// An endless surface. Normals point away from the axis, or along a plane's own normal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Surface {
    Plane {
        point: DVec3,
        normal: DVec3,
    },
    Cylinder {
        point: DVec3,
        axis: DVec3,
        radius: f64,
    },
    Torus {
        centre: DVec3,
        axis: DVec3,
        bend_radius: f64,
        radius: f64,
    },
    /// A cone of 90 degrees that widens along its axis, as countersinks have; `radius` is that at `point`.
    Cone {
        point: DVec3,
        axis: DVec3,
        radius: f64,
    },
}

impl Surface {
    /// Signed distance of a point, positive on the side of the normal.
    pub(super) fn distance(&self, at: DVec3) -> f64 {
        match *self {
            Self::Plane { point, normal } => (at - point).dot(normal),
            Self::Cylinder { point, axis, radius } => radial(at - point, axis).0.length() - radius,
            Self::Torus { centre, axis, bend_radius, radius } => {
                let (across, height) = radial(at - centre, axis);
                libm::hypot(across.length() - bend_radius, height) - radius
            }
            Self::Cone { point, axis, radius } => {
                let (across, height) = radial(at - point, axis);
                (across.length() - radius - height) * core::f64::consts::FRAC_1_SQRT_2
            }
        }
    }

    /// Unit normal at a point of the surface.
    pub(super) fn normal(&self, at: DVec3) -> DVec3 {
        match *self {
            Self::Plane { normal, .. } => normal,
            Self::Cylinder { point, axis, .. } => radial(at - point, axis).0.normalize_or(axis),
            Self::Torus { centre, axis, bend_radius, .. } => {
                let (across, height) = radial(at - centre, axis);
                (across * (1.0 - bend_radius / across.length().max(1e-9)) + axis * height).normalize_or(axis)
            }
            Self::Cone { point, axis, .. } => {
                (radial(at - point, axis).0.normalize_or_zero() - axis).normalize_or(-axis)
            }
        }
    }

    /// Writes the surface so that its parameters run on smoothly about `near`: a seam lies on the far side.
    pub(super) fn write(&self, exchange: &mut Exchange, near: DVec3) -> Id {
        match *self {
            Self::Plane { point, normal } => {
                let axes = exchange.axes(point, normal, DVec3::ZERO);
                exchange.add(&format!("PLANE('',#{axes})"))
            }
            Self::Cylinder { point, axis, radius } => {
                let axes = exchange.axes(point, axis, -radial(near - point, axis).0);
                exchange.add(&format!("CYLINDRICAL_SURFACE('',#{axes},{})", real(radius, 9)))
            }
            Self::Torus { centre, axis, bend_radius, radius } => {
                let axes = exchange.axes(centre, axis, -radial(near - centre, axis).0);
                exchange.add(&format!("TOROIDAL_SURFACE('',#{axes},{},{})", real(bend_radius, 9), real(radius, 9)))
            }
            Self::Cone { point, axis, radius } => {
                let axes = exchange.axes(point, axis, -radial(near - point, axis).0);
                let slope = real(core::f64::consts::FRAC_PI_4, 15);
                exchange.add(&format!("CONICAL_SURFACE('',#{axes},{},{slope})", real(radius, 9)))
            }
        }
    }
}

/// The part of a vector square to the axis, and its height along it.
fn radial(from: DVec3, axis: DVec3) -> (DVec3, f64) {
    let height = from.dot(axis);
    (from - axis * height, height)
}

/// The point common to both surfaces that lies nearest to `guess` (Newton's method with the least step).
pub(super) fn common_point(a: &Surface, b: &Surface, guess: DVec3) -> Option<DVec3> {
    let mut at = guess;
    for _ in 0..8 {
        let (off_a, off_b) = (a.distance(at), b.distance(at));
        if off_a.abs().max(off_b.abs()) < 1e-10 {
            break;
        }
        let (normal_a, normal_b) = (a.normal(at), b.normal(at));
        let together = normal_a.dot(normal_b);
        let spread = 1.0 - together * together;
        if spread < 1e-10 {
            return None;
        }
        at += (normal_a * (together * off_b - off_a) + normal_b * (together * off_a - off_b)) / spread;
    }
    (at.distance(guess) < 5.0).then_some(at)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_common_point_lies_on_both_surfaces() {
        let a = Surface::Cylinder { point: DVec3::ZERO, axis: DVec3::Z, radius: 20.0 };
        let b =
            Surface::Torus { centre: DVec3::new(0.0, -100.0, 5.0), axis: DVec3::Z, bend_radius: 110.0, radius: 22.0 };
        let at = common_point(&a, &b, DVec3::new(13.0, 15.0, 24.0)).unwrap();
        assert!(a.distance(at).abs() < 1e-9 && b.distance(at).abs() < 1e-9);
    }
}
