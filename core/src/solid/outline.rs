//! The smooth strips into which the skin of a tube is divided lengthwise.

use crate::geometry::{DVec3, Profile};

/// Where a tube's section stands in space: the axis, and the directions of its outline's x and y.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Station {
    pub(super) axis: DVec3,
    pub(super) index: DVec3,
    pub(super) side: DVec3,
}

impl Station {
    /// The point of the wall at a place of the outline and a depth.
    pub(super) fn point(&self, profile: &Profile, u: f64, depth: f64) -> DVec3 {
        let [x, y] = profile.spot(u, depth).at;
        self.axis + self.index * x + self.side * y
    }

    /// Outward normal of the outer surface at a place of the outline.
    pub(super) fn normal(&self, profile: &Profile, u: f64) -> DVec3 {
        let [x, y] = profile.spot(u, 0.0).normal;
        self.index * x + self.side * y
    }
}

/// Where strips begin, in rising order of `u` from the first strip on; a strip ends where the next begins. The last one may run
/// past the whole outline.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Strips {
    pub(super) starts: Vec<f64>,
    pub(super) perimeter: f64,
}

impl Strips {
    /// Strips of an outline. A round tube is divided in two halves, as far as can be from the places in `busy`.
    pub(super) fn of(profile: &Profile, busy: &[f64]) -> Self {
        let perimeter = profile.perimeter();
        let starts = match profile {
            Profile::Rect { .. } => profile.joints(),
            Profile::Round { .. } => {
                let half = perimeter / 2.0;
                let room = |start: f64| {
                    let gaps = busy.iter().map(|u| {
                        let gap = (u - start).rem_euclid(half);
                        gap.min(half - gap)
                    });
                    gaps.fold(f64::INFINITY, f64::min)
                };
                let mut best = (0.0, room(0.0));
                for step in 1..180 {
                    let start = half * f64::from(step) / 180.0;
                    // Only what is clearly better moves the division from the index line.
                    if room(start) > best.1 + 1e-6 {
                        best = (start, room(start));
                    }
                }
                vec![best.0, best.0 + half]
            }
        };
        Self { starts, perimeter }
    }

    /// Beginning and end of a strip.
    pub(super) fn bounds(&self, strip: usize) -> (f64, f64) {
        let next = self.starts.get(strip + 1).copied();
        (self.starts[strip], next.unwrap_or(self.starts[0] + self.perimeter))
    }

    /// The place `u`, or the same a turn further on, at or after the first strip's beginning.
    pub(super) fn unrolled(&self, u: f64) -> f64 {
        let start = self.starts[0];
        start + (u - start).rem_euclid(self.perimeter)
    }
}
