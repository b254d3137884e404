//! What a finished tube part is, wherever it stands.

use super::edge::Edge;
use crate::geometry::{Arc, DVec3, Leg, Path, Profile};
use crate::part::Cut;

/// A hole through the wall of a tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hole {
    /// Station of its axis along the centreline from the start of the path, mm.
    pub station: f64,
    /// Clock angle of its axis about the carried index line, right-handed about from -> to, radians.
    pub clock: f64,
    /// Diameter, mm.
    pub diameter: f64,
    /// Clock angle at which it leaves through the opposite wall; `None` when it goes through one wall only.
    pub opposite: Option<f64>,
}

/// A finished tube part in a frame of its own: the centreline starts at the origin along z, clock angle 0 lies along x.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    pub(super) section: String,
    pub(super) profile: Profile,
    pub(super) path: Path,
    pub(super) edges: Box<[Edge; 2]>,
    pub(super) holes: Vec<Hole>,
    pub(super) leave_long: [f64; 2],
}

impl Shape {
    /// The part about `path` whose clock angle 0 starts along `index` (a unit vector square to the first leg) and whose first
    /// and last ends are cut by `cuts`. `section` names profile and material; parts are compared only when it is equal.
    ///
    /// The cuts count their clock angles right-handed about the direction of travel at both ends, from the carried index line.
    #[must_use]
    pub fn of(section: impl Into<String>, path: &Path, index: DVec3, cuts: [&Cut; 2]) -> Self {
        Self {
            section: section.into(),
            profile: cuts[0].profile(),
            path: own_frame(path, index),
            edges: Box::new([Edge::of(path, 0, cuts[0]), Edge::of(path, 1, cuts[1])]),
            holes: Vec::new(),
            leave_long: [0.0; 2],
        }
    }

    /// The same part with these holes.
    #[must_use]
    pub fn with_holes(mut self, holes: Vec<Hole>) -> Self {
        self.holes = holes;
        self
    }

    /// The same part left long by so much at its first and last end, mm.
    #[must_use]
    pub fn left_long(mut self, leave_long: [f64; 2]) -> Self {
        self.leave_long = leave_long;
        self
    }

    /// The part while what is left long at some of its ends is still there; `None` where nothing is left long at one of them.
    pub(super) fn untrimmed(&self, ends: [bool; 2]) -> Option<Self> {
        let mut shape = self.clone();
        for end in (0..2).filter(|&end| ends[end]) {
            if self.leave_long[end] <= 0.0 {
                return None;
            }
            shape.edges[end] = self.edges[end].left_long(self.leave_long[end]);
        }
        Some(shape)
    }

    /// Its mirror image, across the plane of the first leg and its index line: every clock angle changes its sign.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let image = |v: DVec3| DVec3::new(v.x, -v.y, v.z);
        let legs =
            self.path.legs.iter().map(|leg| Leg { start: image(leg.start), direction: image(leg.direction), ..*leg });
        let arcs = self.path.arcs.iter().map(|arc| Arc {
            centre: image(arc.centre),
            axis: -image(arc.axis),
            start: image(arc.start),
            ..*arc
        });
        Self {
            section: self.section.clone(),
            profile: self.profile,
            path: Path { legs: legs.collect(), arcs: arcs.collect() },
            edges: Box::new(self.edges.each_ref().map(Edge::mirrored)),
            holes: self
                .holes
                .iter()
                .map(|hole| Hole { clock: -hole.clock, opposite: hole.opposite.map(|clock| -clock), ..*hole })
                .collect(),
            leave_long: self.leave_long,
        }
    }

    /// Its holes.
    #[must_use]
    pub fn holes(&self) -> &[Hole] {
        &self.holes
    }

    /// True for a tube without bends.
    #[must_use]
    pub fn is_straight(&self) -> bool {
        self.path.arcs.is_empty()
    }

    /// Turns about its own axis that put the outline on itself, radians; `None` for a round tube, which every turn does.
    pub(super) fn own_turns(&self) -> Option<&'static [f64]> {
        use core::f64::consts::{FRAC_PI_2, PI};
        match self.profile {
            Profile::Round { .. } => None,
            Profile::Rect { half_width, half_height, .. } if (half_width - half_height).abs() < 1e-6 => {
                Some(&[0.0, FRAC_PI_2, PI, 3.0 * FRAC_PI_2])
            }
            Profile::Rect { .. } => Some(&[0.0, PI]),
        }
    }

    /// True when both can be compared at all: equal sections and as many bends, and holes of the same kinds.
    pub(super) fn is_like(&self, other: &Self) -> bool {
        self.has_section_of(other)
            && self.path.arcs.len() == other.path.arcs.len()
            && super::holes::same_kinds(&self.holes, &other.holes)
    }

    /// True when both are of the same tube.
    pub(super) fn has_section_of(&self, other: &Self) -> bool {
        let figures = |profile: Profile| match profile {
            Profile::Round { outer, wall } => [outer, wall, 0.0, -1.0],
            Profile::Rect { half_width, half_height, corner, wall } => [half_width, half_height, corner, wall],
        };
        let (a, b) = (figures(self.profile), figures(other.profile));
        self.section == other.section && a.iter().zip(&b).all(|(a, b)| (a - b).abs() < 1e-6)
    }

    /// True when a curve through the regular places of an edge cannot be trusted.
    pub(super) fn is_rough(&self) -> bool {
        self.edges.iter().any(Edge::is_rough)
    }

    /// False only when no motion can carry one onto the other within `tolerance`: quickly told from means, which no turn
    /// changes. A line within the tolerance of another has a mean within it and a spread about its mean within it.
    pub(super) fn may_match(&self, other: &Self, tolerance: f64) -> bool {
        const ROUNDING: f64 = 0.02;
        if self.is_rough() || other.is_rough() {
            return true;
        }
        let close = |a: f64, b: f64, share: f64| (a - b).abs() <= share * tolerance + ROUNDING;
        let lengths = |shape: &Self| {
            let [first, last] = shape.edges.each_ref().map(Edge::mean);
            [last[0] - first[0], last[1] - first[1]]
        };
        let spreads = |shape: &Self| shape.edges.each_ref().map(Edge::spread);
        let (la, lb, [a0, a1], [b0, b1]) = (lengths(self), lengths(other), spreads(self), spreads(other));
        let alike = |a: [f64; 2], b: [f64; 2]| close(a[0], b[0], 1.0) && close(a[1], b[1], 1.0);
        close(la[0], lb[0], 2.0)
            && close(la[1], lb[1], 2.0)
            && ((alike(a0, b0) && alike(a1, b1)) || (alike(a0, b1) && alike(a1, b0)))
    }
}

fn own_frame(path: &Path, index: DVec3) -> Path {
    let first = path.first();
    let side = first.direction.cross(index);
    let turn = |v: DVec3| DVec3::new(v.dot(index), v.dot(side), v.dot(first.direction));
    let legs = path.legs.iter().map(|leg| Leg {
        start: turn(leg.start - first.start),
        direction: turn(leg.direction),
        length: leg.length,
    });
    let arcs = path.arcs.iter().map(|arc| Arc {
        centre: turn(arc.centre - first.start),
        axis: turn(arc.axis),
        start: turn(arc.start),
        ..*arc
    });
    Path { legs: legs.collect(), arcs: arcs.collect() }
}
