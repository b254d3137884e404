//! Comparing finished parts, whatever their place: the same or not, one hand or two, and what an old part can still become.
//!
//! A part is compared as a solid. Every question is asked over all rigid motions that could answer it: a straight round tube
//! turned and slid along its axis, either end first; a bent one as its centreline allows. Whether two parts are the same is not
//! transitive near the tolerance, so a part is compared with the stored master of its number and never with its neighbour.

mod align;
mod differences;
mod edge;
mod hand;
mod holes;
mod motion;
mod plate;
mod plate_tell;
mod rework;
mod same;
mod shape;
mod tell;

pub use hand::{Hand, hand};
pub use motion::Motion;
pub use plate::{
    Countersink, PlateEdge, PlateHand, PlateHole, PlateMatch, PlateShape, PlateSide, plate_hand, same_plate,
};
pub use plate_tell::{PlateFeature, PlateTell};
pub use rework::{Change, Trim, Why, rework};
pub use same::{Match, closest, same};
pub use shape::{Hole, Shape};
pub use tell::{Mark, Side, Tell};

/// Most by which one part may differ from another and still be the same part, mm.
pub const SAME: f64 = 0.05;

/// A pair that differs by less than this is handed, but so little that the designer is asked about it, mm.
pub const NEAR: f64 = 1.0;
