//! What is said of the joining of curves.

use glam::DVec3;
use thiserror::Error;

/// What was done to join curves, or stands in the way.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum JoinFact<'a> {
    #[error(
        "This is a closed ring. It has no ends, so it cannot be a member and was left out. Cut it where the tube begins."
    )]
    ClosedRing,
    #[error(
        "This and {more} more pieces make a closed ring, which has no ends, so it cannot be a member and was left out."
    )]
    RingOfPieces { more: usize },
    #[error("A bend drawn as short straight pieces was read as an arc of radius {radius:.3} mm.")]
    ChordsFitted { radius: f64 },
    #[error("This line has no length and was left out.")]
    NoLength,
    #[error("There are more than {most} lines on the layers of tubes. Import fewer layers.")]
    TooManyPieces { most: usize },
    #[error("Are pieces in one line on one layer, end to end, one tube?")]
    WhetherInLineIsOne,
    #[error(
        "This line and another in line with it were joined to one tube at {at} ({other}). Answer `join_in_line` with false to keep them apart."
    )]
    JoinedInLine { at: Place, other: &'a str },
    #[error(
        "At {at} this piece could go on in {ways} ways, so it was not joined to any. Draw the tube as one polyline."
    )]
    ManyWaysOn { at: Place, ways: usize },
    #[error(
        "Lines that follow each other here are each nearly in line with the next, but bend off together. Each was made a tube. Draw a bend as an arc."
    )]
    NotStraightTogether,
    #[error("{ends} ends up to {gap:.3} mm apart were joined to one point.")]
    GapClosed { ends: usize, gap: f64 },
    #[error("This line overlaps another on its layer in part ({other}). Both were made one line.")]
    OverlapsInPart { other: &'a str },
    #[error("This is part of another line on its layer ({outer}) and was left out.")]
    PartOfAnother { outer: &'a str },
    #[error("This is a duplicate of another on its layer ({outer}) and was left out.")]
    Duplicate { outer: &'a str },
}

/// Where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum Place {
    #[error("({x:.3}, {y:.3}, {z:.3})")]
    Point { x: f64, y: f64, z: f64 },
}

impl From<DVec3> for Place {
    fn from(DVec3 { x, y, z }: DVec3) -> Self {
        Self::Point { x, y, z }
    }
}
