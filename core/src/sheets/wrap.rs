//! Wraps: 1:1 unrolled templates of tube ends.

use super::End;
use serde::Serialize;

/// The template of one end.
///
/// Coordinates are those of the printed face, printed side out: `x` runs to the right round the tube in mm of the tube's own
/// outer circumference, 0 to `circumference`; `y` runs up along the tube in mm from the base line (`y = 0`, set to the set-out
/// mark) towards the cut. The cut is always at the top and the body of the tube below, for both ends.
/// A printer that allows for paper thickness scales `x` by `(od + paper) / od`.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Wrap {
    /// Id of the member.
    pub member: String,
    /// Which end of it.
    pub end: End,
    /// Section as a fitter calls it, such as `45 x 2.5`.
    pub size: String,
    /// Outer diameter, mm.
    pub od: f64,
    /// Wall, mm.
    pub wall: f64,
    /// `mitre` or `cope`, or `square` for the trimming wrap of a leg left long.
    pub cut: String,
    /// Members this end is fitted to.
    pub fits: Vec<String>,
    /// Outer circumference, mm: pi x od.
    pub circumference: f64,
    /// The outer line: runs of [x, y] in order of x; more than one run where part of the wall misses. Within 0.01 mm of the true curve.
    pub outer: Vec<Vec<[f64; 2]>>,
    /// The relief line, likewise.
    pub relief: Vec<Vec<[f64; 2]>>,
    /// Height of the template above the base line that holds both lines, mm.
    pub height: f64,
    /// Local dihedral angle at regular places of the outer line.
    pub bevels: Vec<BevelFigure>,
    /// The index lines at 0, 90, 180 and 270 degrees.
    pub index_lines: Vec<IndexLine>,
    /// Where the long point of this cut lies; `None` for a square cut.
    pub long_point: Option<IndexLine>,
    /// Where the furthest point of the other end's cut lies, seen round the tube; `None` when the other end is square.
    pub other_long_point: Option<IndexLine>,
    /// Where the base line goes.
    pub set_out: SetOut,
    /// Long point to long point of the finished part, mm.
    pub overall: f64,
    /// Largest throat: the most by which the relief line lies behind the outer line, mm.
    pub largest_relief: f64,
    /// Parts of the wall that miss their target.
    pub misses: Vec<Miss>,
}

/// A lengthwise line of the tube on the wrap.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct IndexLine {
    /// Clock angle, degrees in [0, 360), right-handed about the direction from -> to.
    pub clock_deg: f64,
    /// Its place on the printed face, mm.
    pub x: f64,
}

/// Local dihedral angle between the outer surfaces (AWS D1.1 tubular definition) at a place on the outer line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct BevelFigure {
    /// Clock angle, degrees.
    pub clock_deg: f64,
    /// Place on the printed face, mm.
    pub x: f64,
    /// Height of the outer line there, mm.
    pub y: f64,
    /// Dihedral angle, degrees.
    pub dihedral_deg: f64,
}

/// Where the base line of a wrap is set.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SetOut {
    /// From where it is measured.
    pub datum: Datum,
    /// Distance along the tube from the datum to the base line, mm: a whole number, so that a tape can set it.
    pub distance: f64,
}

/// From where a set-out is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "snake_case", tag = "kind")]
pub enum Datum {
    /// The furthest point of the other end's cut (the sawn end itself when the other end is square): straight members.
    OtherEnd,
    /// The tangent mark of the bend nearest this end, numbered from 1 at the `from` end: bent members.
    TangentMark {
        /// Number of the bend.
        bend: usize,
    },
}

/// Part of the wall that misses every target, so that no line is drawn there.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Miss {
    /// Clock angle where the miss begins, degrees.
    pub from_deg: f64,
    /// Clock angle where it ends, degrees, going up from `from_deg`; may exceed 360.
    pub to_deg: f64,
    /// By how much the wall passes the target at the worst place, mm.
    pub by: f64,
}
