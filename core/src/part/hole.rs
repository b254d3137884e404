//! Holes through the wall of a tube: what they take away, and how they look unrolled.

use crate::frame::DrilledHole;
use crate::geometry::Profile;

/// A hole of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct PartHole {
    /// Its name.
    pub id: String,
    /// Station of its centre, mm along the centreline from the `from` point.
    pub station: f64,
    /// Clock angle of its centre, radians.
    pub clock: f64,
    /// Place of its centre round the outer outline, mm.
    pub u: f64,
    /// Diameter, mm.
    pub diameter: f64,
    /// True when it goes through both walls.
    pub both_walls: bool,
    /// What it is for; empty when nothing is said.
    pub note: String,
}

/// Strips into which a hole is cut to be summed.
const STRIPS: u32 = 64;

impl PartHole {
    pub(super) fn of(hole: &DrilledHole) -> Self {
        Self {
            id: hole.id.clone(),
            station: hole.station,
            clock: hole.clock,
            u: hole.u,
            diameter: hole.diameter,
            both_walls: hole.both_walls,
            note: hole.note.clone(),
        }
    }

    /// Places of its centre round the outer outline, mm: one, or two opposite each other.
    pub fn places(&self, profile: Profile) -> impl Iterator<Item = f64> {
        let perimeter = profile.perimeter();
        // Seen along the drill the far side of a rectangular tube has its offset on the other hand.
        let opposite = match profile {
            Profile::Round { .. } => self.u + perimeter / 2.0,
            Profile::Rect { .. } => 2.0 * profile.place_at(self.clock) - self.u + perimeter / 2.0,
        };
        [Some(self.u), self.both_walls.then_some(opposite.rem_euclid(perimeter))].into_iter().flatten()
    }

    /// Steel that it takes away, mm3.
    ///
    /// Formula: on a round tube the integral of 2 sqrt(a^2 - x^2) (sqrt(R^2 - x^2) - sqrt(r^2 - x^2)) over the hole's half width
    /// a, with x = a sin t; on a flat side pi a^2 times the wall.
    #[must_use]
    pub fn volume(&self, profile: Profile) -> f64 {
        use core::f64::consts::{FRAC_PI_2, PI};
        let radius = self.diameter / 2.0;
        let walls = if self.both_walls { 2.0 } else { 1.0 };
        let one = match profile {
            Profile::Round { outer, wall } => {
                let bore = outer - wall;
                let step = PI / f64::from(STRIPS);
                let strips = (0..STRIPS).map(|strip| {
                    let (sin, cos) = libm::sincos((f64::from(strip) + 0.5) * step - FRAC_PI_2);
                    let x = radius * sin;
                    let through = (outer * outer - x * x).sqrt() - (bore * bore - x * x).max(0.0).sqrt();
                    2.0 * radius * cos * through * radius * cos
                });
                strips.sum::<f64>() * step
            }
            Profile::Rect { wall, .. } => PI * radius * radius * wall,
        };
        one * walls
    }

    /// Its edge on the unrolled outer surface as seen from outside: closed run of `[du, ds]` in mm from its centre, the
    /// first point repeated at the end.
    ///
    /// Formula: du = R asin(a sin t / R), ds = a cos t on a round tube of outer radius R; a circle on a flat side.
    #[must_use]
    pub fn outline(&self, profile: Profile) -> Vec<[f64; 2]> {
        const SIDES: u32 = 72;
        let radius = self.diameter / 2.0;
        let point = |side: u32| {
            let (sin, cos) = libm::sincos(core::f64::consts::TAU * f64::from(side) / f64::from(SIDES));
            let du = match profile {
                Profile::Round { outer, .. } => outer * libm::asin(radius * sin / outer),
                Profile::Rect { .. } => radius * sin,
            };
            [du, radius * cos]
        };
        (0..=SIDES).map(point).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_hole_takes_its_area_times_the_wall() {
        let hole = |diameter: f64, both_walls: bool| PartHole {
            id: "h".into(),
            station: 0.0,
            clock: 0.0,
            u: 0.0,
            diameter,
            both_walls,
            note: String::new(),
        };
        let profile = Profile::Round { outer: 25.0, wall: 2.0 };
        let flat = core::f64::consts::PI * 0.25 * 2.0;
        assert!((hole(1.0, false).volume(profile) / flat - 1.0).abs() < 1e-3);
        assert!((hole(1.0, true).volume(profile) / (2.0 * flat) - 1.0).abs() < 1e-3);
        // A hole as wide as the bore: a cylinder of radius r through one of radius r has 16 r^3 / 3 in common (Steinmetz solid),
        // so that inside the bore lie 8 r^3 / 3 on each side.
        let solid = Profile::Round { outer: 25.0, wall: 24.999_999 };
        let bored = hole(49.999_999, false).volume(solid);
        assert!((bored / (8.0 * 25.0_f64.powi(3) / 3.0) - 1.0).abs() < 1e-3, "{bored}");
    }
}
