//! The bends of a tube as they are made: feed, rotate, bend.

use crate::geometry::Path;

/// One bend, in the order they are met from the first end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bend {
    /// Straight between the tangent points before it, mm.
    pub feed: f64,
    /// Rotation from the plane of the bend before, right-handed about the direction of travel, radians in (-pi, pi]; 0 for the first.
    pub rotate: f64,
    /// Change of direction, radians.
    pub angle: f64,
    /// Centreline radius, mm.
    pub radius: f64,
}

/// The bend schedule of a path.
#[derive(Debug, Clone, PartialEq)]
pub struct Bends {
    /// The bends.
    pub rows: Vec<Bend>,
    /// Straight after the last of them, mm.
    pub last_straight: f64,
}

impl Bends {
    /// The schedule of a centreline.
    ///
    /// Formula: rotation = atan2((N' x N) . u, N' . N) with the normals of both bend planes and the direction between them.
    #[must_use]
    pub fn of(path: &Path) -> Self {
        let rows = path.arcs.iter().enumerate().map(|(number, arc)| {
            let leg = path.legs[number];
            let rotate = match number.checked_sub(1).map(|before| path.arcs[before].axis) {
                None => 0.0,
                Some(before) => half_open(libm::atan2(before.cross(arc.axis).dot(leg.direction), before.dot(arc.axis))),
            };
            Bend { feed: leg.length, rotate, angle: arc.angle, radius: arc.radius }
        });
        Self { rows: rows.collect(), last_straight: path.last().length }
    }

    /// True when all bends lie in one plane.
    #[must_use]
    pub fn is_planar(&self) -> bool {
        self.rows.iter().all(|bend| libm::sin(bend.rotate).abs() < 1e-6)
    }
}

/// Half a turn has one sign, and what is zero but for rounding is zero.
fn half_open(angle: f64) -> f64 {
    if angle.abs() < 1e-9 {
        0.0
    } else if angle < -core::f64::consts::PI + 1e-9 {
        core::f64::consts::PI
    } else {
        angle
    }
}
