//! Curves on the surfaces of parts.

use crate::geometry::DVec3;

/// On which hand of a curve, as it is seen and in its own direction, its part lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hand {
    /// On the left.
    Left,
    /// On the right.
    Right,
}

/// What a curve is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Curve {
    /// One side of the outline of a tube as this view sees it.
    Side(Hand),
    /// The outline of another rounded surface.
    Contour,
    /// An edge, or the line along which a cut end meets what it is fitted to.
    Edge,
    /// The middle of a rounded corner of a rectangular tube.
    Corner,
}

/// A place on a curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct CurvePoint {
    pub(super) at: DVec3,
    /// Unit direction in which one leaves every surface that meets here.
    pub(super) out: DVec3,
}

impl CurvePoint {
    fn between(&self, other: &Self, part: f64) -> Self {
        Self { at: self.at.lerp(other.at, part), out: self.out.lerp(other.out, part) }
    }
}

/// A curve on the surface of one part: places so close that their chords lie on it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Chain {
    /// Whose it is, as a position among the bodies of the scene.
    pub(super) body: usize,
    pub(super) curve: Curve,
    places: Vec<CurvePoint>,
    /// Length from the first place to each, mm.
    lengths: Vec<f64>,
}

impl Chain {
    /// The chain of some places; `None` when they are too few or fall on one another.
    pub(super) fn new(body: usize, curve: Curve, places: Vec<CurvePoint>) -> Option<Self> {
        let mut lengths = Vec::with_capacity(places.len());
        let mut length = 0.0;
        for (index, place) in places.iter().enumerate() {
            if let Some(before) = index.checked_sub(1).map(|before| &places[before]) {
                length += before.at.distance(place.at);
            }
            lengths.push(length);
        }
        (length > 1e-3).then_some(Self { body, curve, places, lengths })
    }

    pub(super) fn length(&self) -> f64 {
        self.lengths.last().copied().unwrap_or(0.0)
    }

    /// The place so far along.
    pub(super) fn at(&self, along: f64) -> CurvePoint {
        let after = self.lengths.partition_point(|&length| length < along).clamp(1, self.places.len() - 1);
        let (from, to) = (self.lengths[after - 1], self.lengths[after]);
        let part = if to > from { ((along - from) / (to - from)).clamp(0.0, 1.0) } else { 0.0 };
        self.places[after - 1].between(&self.places[after], part)
    }

    /// The points from one place along to another, both included.
    pub(super) fn points(&self, from: f64, to: f64) -> Vec<DVec3> {
        let first = self.lengths.partition_point(|&length| length <= from);
        let last = self.lengths.partition_point(|&length| length < to);
        let mut points = vec![self.at(from).at];
        points.extend(self.places[first.min(last)..last].iter().map(|place| place.at));
        points.push(self.at(to).at);
        points
    }

    pub(super) fn all(&self) -> impl Iterator<Item = DVec3> + '_ {
        self.places.iter().map(|place| place.at)
    }
}
