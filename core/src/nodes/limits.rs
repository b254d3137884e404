//! Every figure that decides something at a node. All are judgement, and defaults of ours.

pub(super) use crate::frame::fit::{AXES_MEET, DRAWN_NEAR};

/// Figures that are held against limits are taken in so many steps to the mm and the degree: what rounding makes of a frame that
/// lies elsewhere, or of its mirror image, decides nothing.
const IN_ONE: f64 = 1e6;

/// A figure in steps.
pub(super) fn in_steps(figure: f64) -> f64 {
    (figure * IN_ONE).round() / IN_ONE
}

/// Ends drawn no further apart are one node, mm.
pub(super) const REACH: f64 = 3.0;

/// An end that stops no further short of what it comes upon is fitted to it, mm.
pub(super) const LANDS: f64 = 10.0;

/// An end that stops short of what it comes upon by more than [`LANDS`], and by no more than this, is told by how much, mm.
pub(super) const SHORT: f64 = 50.0;

/// Sizes that differ by no more are equal, mm.
pub(super) const EQUAL: f64 = 0.05;

/// Axes of a mitred pair that pass each other by more are told, mm.
pub(super) const AXES_APART: f64 = 0.05;

/// From here on a pair of equal ends goes straight on, degrees.
pub(super) const STRAIGHT_ON: f64 = 170.0;

/// From here on it is better drawn as one tube, degrees.
pub(super) const ONE_TUBE: f64 = 179.5;

/// From here on a pair is mitred, degrees.
pub(super) const OPEN: f64 = 30.0;

/// Under this an end is too sharp to be fitted, degrees.
pub(super) const SHARP: f64 = 15.0;

/// A tube runs on by no more than so many times its size.
pub(super) const LONGEST_RUN_ON: f64 = 1.5;

/// A wall that passes by no more than this in a trial seats, mm.
pub(super) const SEATS: f64 = 0.05;

/// Points no further from the mirror image of one another are of two hands, mm.
pub(super) const HANDS: f64 = 1.0;

/// The same of unit directions.
pub(super) const HANDS_TURNED: f64 = 0.01;

/// Eccentricity of a joint's braces as a part of the chord's size that may be left out of its design: EN 1993-1-8, 5.1.5 (from
/// memory).
pub(super) const ECCENTRIC: [f64; 2] = [-0.55, 0.25];

/// Least overlap of two braces as a part of the overlapping one's footprint: EN 1993-1-8 chapter 7, CIDECT design guide 1.
pub(super) const OVERLAP: f64 = 0.25;
