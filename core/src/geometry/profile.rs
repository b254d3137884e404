//! Outlines of tube sections: where the generators of a tube wall lie.

/// The outline of a tube, in a plane square to its axis with the axis at the origin.
///
/// A place on it is `u`, the arc length round the outer outline from the middle of the side at `+x`, growing towards `+y`;
/// `depth` goes in from the outer surface along its normal, up to the wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Profile {
    /// A round tube.
    Round {
        /// Outer radius, mm.
        outer: f64,
        /// Wall, mm.
        wall: f64,
    },
    /// A rectangular tube with rounded corners.
    Rect {
        /// Half its width, along x, mm.
        half_width: f64,
        /// Half its height, along y, mm.
        half_height: f64,
        /// Outer corner radius, mm.
        corner: f64,
        /// Wall, mm.
        wall: f64,
    },
}

/// A place in the wall of a tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// Where it is, mm.
    pub at: [f64; 2],
    /// Outward unit normal of the outer surface there.
    pub normal: [f64; 2],
    /// Area of the wall there for 1 mm of `u` and 1 mm of depth.
    pub share: f64,
    /// Curvature of the outer outline there, 1/mm.
    pub curvature: f64,
    /// Which smooth part of the outline it lies on, from 0.
    pub side: usize,
}

impl Spot {
    /// The place in the wall `depth` under this one, which lies on the outer surface.
    #[must_use]
    pub fn inwards(&self, depth: f64) -> [f64; 2] {
        [self.at[0] - depth * self.normal[0], self.at[1] - depth * self.normal[1]]
    }

    /// How the place in the wall `depth` under this one moves for 1 mm of `u`.
    #[must_use]
    pub fn step(&self, depth: f64) -> [f64; 2] {
        let pace = 1.0 - depth * self.curvature;
        [-pace * self.normal[1], pace * self.normal[0]]
    }
}

impl Profile {
    /// Length of the outer outline, mm.
    #[must_use]
    pub fn perimeter(&self) -> f64 {
        use core::f64::consts::{PI, TAU};
        match *self {
            Self::Round { outer, .. } => TAU * outer,
            Self::Rect { half_width, half_height, corner, .. } => {
                4.0 * (half_width + half_height) - (8.0 - 2.0 * PI) * corner
            }
        }
    }

    /// Wall, mm.
    #[must_use]
    pub fn wall(&self) -> f64 {
        match *self {
            Self::Round { wall, .. } | Self::Rect { wall, .. } => wall,
        }
    }

    /// Area of the wall's section, mm2.
    ///
    /// Formula: round pi wall (od - wall); rectangular A = 2 T (B + H - 2 T) - (4 - pi) (ro^2 - ri^2) (EN 10219-2; from memory).
    #[must_use]
    pub fn area(&self) -> f64 {
        use core::f64::consts::PI;
        match *self {
            Self::Round { outer, wall } => PI * wall * (2.0 * outer - wall),
            Self::Rect { half_width, half_height, corner, wall } => {
                let bore = (corner - wall).max(0.0);
                4.0 * wall * (half_width + half_height - wall) - (4.0 - PI) * (corner * corner - bore * bore)
            }
        }
    }

    /// How far the outline reaches from the axis in the unit direction `[x, y]`, mm.
    #[must_use]
    pub fn extent(&self, [x, y]: [f64; 2]) -> f64 {
        match *self {
            Self::Round { outer, .. } => outer,
            Self::Rect { half_width, half_height, corner, .. } => {
                (half_width - corner) * x.abs() + (half_height - corner) * y.abs() + corner
            }
        }
    }

    /// The place on the outer outline that lies furthest in the direction at `clock` radians from the x axis towards the y axis,
    /// mm; the middle of a flat side that faces just so.
    #[must_use]
    pub fn place_at(&self, clock: f64) -> f64 {
        use core::f64::consts::{FRAC_PI_2, TAU};
        let clock = clock.rem_euclid(TAU);
        match *self {
            Self::Round { outer, .. } => clock * outer,
            Self::Rect { half_width, half_height, corner, .. } => {
                let (mut at, mut quarter) = (0.0, 0);
                let mut rest = clock;
                while rest >= FRAC_PI_2 - 1e-12 && quarter < 4 {
                    at += half_width + half_height - 2.0 * corner + FRAC_PI_2 * corner;
                    rest = (rest - FRAC_PI_2).max(0.0);
                    quarter += 1;
                }
                if rest < 1e-12 {
                    return at;
                }
                let half_side = if quarter % 2 == 0 { half_height } else { half_width };
                at + (half_side - corner) + rest * corner
            }
        }
    }

    /// Clock angle of a place on the outer outline, radians in [0, 2 pi): the angle at which it is seen from the axis.
    #[must_use]
    pub fn clock(&self, u: f64) -> f64 {
        use core::f64::consts::TAU;
        match *self {
            Self::Round { outer, .. } => (u / outer).rem_euclid(TAU),
            Self::Rect { .. } => {
                let [x, y] = self.spot(u, 0.0).at;
                libm::atan2(y, x).rem_euclid(TAU)
            }
        }
    }

    /// Distance of the outline's furthest point from the axis, mm.
    #[must_use]
    pub fn reach(&self) -> f64 {
        match *self {
            Self::Round { outer, .. } => outer,
            Self::Rect { half_width, half_height, corner, .. } => {
                libm::hypot(half_width - corner, half_height - corner) + corner
            }
        }
    }

    /// The place at `u` and `depth`.
    #[must_use]
    pub fn spot(&self, u: f64, depth: f64) -> Spot {
        match *self {
            Self::Round { outer, .. } => {
                let (sin, cos) = libm::sincos(u / outer);
                let radius = outer - depth;
                Spot {
                    at: [radius * cos, radius * sin],
                    normal: [cos, sin],
                    share: radius / outer,
                    curvature: 1.0 / outer,
                    side: 0,
                }
            }
            Self::Rect { half_width, half_height, corner, .. } => {
                rect_spot([half_width, half_height], corner, u.rem_euclid(self.perimeter()), depth)
            }
        }
    }

    /// Places on the outer surface at `count` equal steps round the outline, from `u = 0`.
    #[must_use]
    pub fn ring(&self, count: u32) -> Vec<Spot> {
        let step = self.perimeter() / f64::from(count);
        // A quarter turn of a round tube is the next quarter.
        let quarter = match self {
            Self::Round { .. } if count.is_multiple_of(4) => count / 4,
            _ => count,
        };
        let mut ring: Vec<Spot> = Vec::with_capacity(count as usize);
        ring.extend((0..quarter).map(|k| self.spot(step * f64::from(k), 0.0)));
        for k in 0..(count - quarter) as usize {
            let Spot { at: [x, y], normal: [nx, ny], .. } = ring[k];
            ring.push(Spot { at: [-y, x], normal: [-ny, nx], ..ring[k] });
        }
        ring
    }

    /// Where the outline goes from one smooth part to the next, in rising order of `u`; empty for a round tube.
    #[must_use]
    pub fn joints(&self) -> Vec<f64> {
        match *self {
            Self::Round { .. } => Vec::new(),
            Self::Rect { half_width, half_height, corner, .. } => {
                let arc = core::f64::consts::FRAC_PI_2 * corner;
                let (flat_x, flat_y) = (2.0 * (half_width - corner), 2.0 * (half_height - corner));
                let mut joints = Vec::with_capacity(8);
                let mut at = half_height - corner;
                for flat in [flat_x, flat_y, flat_x, 0.0] {
                    joints.push(at);
                    joints.push(at + arc);
                    at += arc + flat;
                }
                joints
            }
        }
    }
}

fn rect_spot(half: [f64; 2], corner: f64, u: f64, depth: f64) -> Spot {
    let arc = core::f64::consts::FRAC_PI_2 * corner;
    // Seen from each side in turn the outline repeats: half a flat, a corner, the next half flat.
    let mut rest = u;
    for quarter in 0..4 {
        let (out, along) = if quarter % 2 == 0 { (half[0], half[1]) } else { (half[1], half[0]) };
        let turn = |x: f64, y: f64| match quarter {
            0 => [x, y],
            1 => [-y, x],
            2 => [-x, -y],
            _ => [y, -x],
        };
        let flat = along - corner;
        if rest < flat {
            return Spot {
                at: turn(out - depth, rest),
                normal: turn(1.0, 0.0),
                share: 1.0,
                curvature: 0.0,
                side: 2 * quarter,
            };
        }
        rest -= flat;
        if rest < arc {
            let (sin, cos) = libm::sincos(rest / corner);
            let radius = (corner - depth).max(0.0);
            return Spot {
                at: turn(out - corner + radius * cos, flat + radius * sin),
                normal: turn(cos, sin),
                share: radius / corner,
                curvature: 1.0 / corner,
                side: 2 * quarter + 1,
            };
        }
        rest -= arc;
        let next = out - corner;
        if rest < next || quarter == 3 {
            return Spot {
                at: turn(next - rest, along - depth),
                normal: turn(0.0, 1.0),
                share: 1.0,
                curvature: 0.0,
                side: (2 * quarter + 2) % 8,
            };
        }
        rest -= next;
    }
    Spot { at: [half[0] - depth, 0.0], normal: [1.0, 0.0], share: 1.0, curvature: 0.0, side: 0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rectangular_outline_closes_and_is_walked_at_unit_speed() {
        let profile = Profile::Rect { half_width: 20.0, half_height: 10.0, corner: 4.0, wall: 2.0 };
        let (perimeter, step) = (profile.perimeter(), 1e-4);
        // EN 10219-2, annex on section properties: surface = 2 (B + H) - (8 - 2 pi) ro; from memory.
        assert!((perimeter - (2.0 * 60.0 - (8.0 - 2.0 * core::f64::consts::PI) * 4.0)).abs() < 1e-12);
        for k in 0..720 {
            let u = perimeter * f64::from(k) / 720.0;
            let (here, next) = (profile.spot(u, 0.0).at, profile.spot(u + step, 0.0).at);
            let walked = libm::hypot(next[0] - here[0], next[1] - here[1]);
            assert!((walked / step - 1.0).abs() < 1e-3, "at {u}");
        }
        assert_eq!(profile.spot(0.0, 0.0).at, [20.0, 0.0]);
        assert_eq!(profile.joints().len(), 8);
        assert!((profile.joints()[7] + 6.0 - perimeter).abs() < 1e-9);
    }

    #[test]
    fn bore_corners_are_smaller_by_the_wall() {
        let profile = Profile::Rect { half_width: 20.0, half_height: 10.0, corner: 4.0, wall: 2.0 };
        let middle = profile.spot(6.0 + core::f64::consts::FRAC_PI_4 * 4.0, 2.0);
        let wanted = 2.0 * core::f64::consts::FRAC_1_SQRT_2;
        assert!((middle.at[0] - (16.0 + wanted)).abs() < 1e-12 && (middle.at[1] - (6.0 + wanted)).abs() < 1e-12);
        assert!((middle.share - 0.5).abs() < 1e-12);
    }
}
