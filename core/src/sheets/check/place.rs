//! Where a dimension is measured from and to, by the marks of tubes.

use crate::document::Axis;
use crate::sheets::{End, Facing};
use serde::{Deserialize, Serialize};

/// A place that a tape finds. Lengths are mm.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "place")]
pub enum Place {
    /// The middle of an end.
    EndMiddle {
        /// Id of the member.
        member: String,
        /// The end.
        end: End,
    },
    /// The base plane, straight below.
    BasePlane,
    /// The top of a bent member at its crown, outside.
    Crown {
        /// Id of the member.
        member: String,
    },
    /// On the outside of a tube, in line with one that meets it.
    InLine {
        /// Id of the member on which it is.
        on: String,
        /// Where round that.
        side: PlaceRound,
        /// Id of the member with which it is in line.
        with: String,
        /// Which end of that, where both of its ends meet this tube.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        end: Option<End>,
    },
    /// The outer corner of two members that are mitred to each other, which is the long point of the first one's end.
    Corner {
        /// Ids of both.
        members: [String; 2],
        /// The end of the first one.
        end: End,
    },
    /// On a member's centreline, further out than where it meets its end.
    Beyond {
        /// Id of the member.
        member: String,
        /// By how much.
        by: f64,
        /// The end.
        end: End,
        /// What is met there.
        face: EndFace,
    },
    /// On a member's centreline, further in than where it meets its end.
    InFrom {
        /// Id of the member.
        member: String,
        /// By how much.
        by: f64,
        /// The end.
        end: End,
        /// What is met there.
        face: EndFace,
    },
    /// On a member's centreline, between its ends.
    Along {
        /// Id of the member.
        member: String,
        /// How far from the end.
        from: f64,
        /// The end.
        end: End,
        /// What is met there.
        face: EndFace,
    },
    /// Where the centrelines before and after a bend would meet.
    BendCorner {
        /// Id of the member.
        member: String,
        /// Number of the bend, from 1.
        bend: usize,
    },
    /// On the base plane.
    OnBase {
        /// Forward of the frame's origin.
        x: f64,
        /// Left of it.
        y: f64,
    },
    /// Anywhere else, by its figures from the frame's origin.
    InSpace {
        /// x forward, y left, z up.
        at: [f64; 3],
    },
}

/// Where round a tube a place is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "round")]
pub enum PlaceRound {
    /// At a clock angle of a straight tube.
    Clock {
        /// The angle, degrees in [0, 360).
        degrees: f64,
        /// Which way that side faces.
        faces: Facing,
    },
    /// On the side of a bent tube that faces a way, nothing nearer being known.
    Side {
        /// Which way.
        faces: Facing,
    },
    /// On the middle of that side.
    Middle {
        /// Which way it faces.
        faces: Facing,
    },
    /// Round from the middle of that side towards another.
    Turned {
        /// By how much, degrees.
        degrees: f64,
        /// Which way the side faces.
        faces: Facing,
        /// Which way the other one faces.
        towards: Facing,
    },
}

/// What a tube's centreline meets at an end.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "face")]
pub enum EndFace {
    /// The middle of the sawn face.
    Sawn,
    /// The middle of the face that a plane cuts.
    Cut,
    /// The one part that the end is fitted to.
    Part {
        /// Its id.
        met: String,
    },
    /// What the end is fitted to.
    Fitted,
}

/// What a check dimension is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "what")]
pub enum Dimension {
    /// What the designer calls it.
    Named {
        /// The designer's words.
        words: String,
    },
    /// A distance.
    Distance,
    /// A distance along an axis of the frame.
    DistanceAlong {
        /// `x`, `y` or `z`.
        axis: Axis,
    },
    /// From end to end of a bent member.
    Spread,
    /// Square to the base plane.
    Height,
    /// A diagonal of a closed bay.
    Diagonal,
    /// Across the frame.
    Width,
}
