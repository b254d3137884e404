//! Plates: gussets, feet and brackets.

use super::field::{Field, record, refuse_unknown, wrong_kind};
use super::finding::Findings;
use super::kit::When;
use super::place::JsonPlace;
use super::point::{Direction, FlatPoint, PointRef};
use super::scalar::{Angle, HoleDiameter, Name, Radius, Station, Text, Wall};
use crate::words::findings::values::Wanted;
use serde_json::{Value, json};

record! {
    /// A flat plate.
    pub struct Plate most 5_000 {
        /// Thickness, mm.
        required thickness: Wall,
        /// Name of its material.
        required material: Name,
        /// Its outline, corner by corner.
        required outline: Vec<Corner>,
        /// Where it lies: `at`, `normal` and `along`, or `on`, `station` and `clock`.
        required place: PlatePlace,
        /// Holes through it.
        optional holes: Vec<PlateHole>,
        /// True to add the opposite-hand plate, mirrored across y = 0; its name ends in `.L` or `.R` then.
        optional mirror: bool,
        /// Id of the member after which it is put in place. Without it a plate in space stands before all members, and one on a member
        /// comes right after that member.
        optional after: Name,
        /// Part number that this plate keeps whatever else is numbered.
        optional part: Name,
        /// Options under which this plate is there; always when absent.
        optional when: When,
        /// A word to the fitter.
        optional note: Text,
    }
}

record! {
    /// Where a plate lies: in space, or on a member.
    pub struct PlatePlace {
        /// Where the outline's origin lies, on the face that `normal` points away from.
        optional at: PointRef,
        /// Direction square to the plate, into which its thickness grows.
        optional normal: Direction,
        /// Direction of the outline's x axis, made square to `normal`.
        optional along: Direction,
        /// The straight member on which it lies; the outline's x axis runs along the member from its `from` end.
        optional on: Name,
        /// Where on the member the outline's origin lies: mm along the centreline from the `from` point.
        optional station: Station,
        /// On which side of the member: clock angle in degrees.
        optional clock: Angle,
    }
}

record! {
    /// A hole through a plate.
    pub struct PlateHole {
        /// Its centre in the outline's coordinates.
        required at: FlatPoint,
        /// Diameter, mm.
        required diameter: HoleDiameter,
        /// Diameter of a countersink on the face that the normal points out of, mm.
        optional countersink: HoleDiameter,
    }
}

/// A corner of an outline, reached from the corner before it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Corner {
    /// By a straight edge.
    Sharp(FlatPoint),
    /// By a straight edge, and rounded off.
    Rounded {
        /// Where the corner would be if it were sharp.
        at: FlatPoint,
        /// Radius, mm.
        round: Radius,
    },
    /// By an arc.
    Arc {
        /// Where the arc ends.
        to: FlatPoint,
        /// A place that it passes on the way.
        through: FlatPoint,
    },
}

record! {
    /// A rounded corner.
    pub struct RoundedCorner {
        /// Where the corner would be if it were sharp.
        required at: FlatPoint,
        /// Radius, mm.
        required round: Radius,
    }
}

record! {
    /// An arc to a corner.
    pub struct ArcCorner {
        /// Where the arc ends.
        required to: FlatPoint,
        /// A place that it passes on the way.
        required through: FlatPoint,
    }
}

impl Field for Corner {
    const MOST: usize = 500;

    fn read(value: &Value, place: &JsonPlace<'_>, findings: &mut Findings) -> Option<Self> {
        match value {
            Value::Array(_) => FlatPoint::read(value, place, findings).map(Self::Sharp),
            Value::Object(entries) if entries.contains_key("through") || entries.contains_key("to") => {
                let ArcCorner { to, through } = ArcCorner::read(value, place, findings)?;
                Some(Self::Arc { to, through })
            }
            Value::Object(entries) if entries.contains_key("at") || entries.contains_key("round") => {
                let RoundedCorner { at, round } = RoundedCorner::read(value, place, findings)?;
                Some(Self::Rounded { at, round })
            }
            _ => {
                if let Value::Object(entries) = value {
                    refuse_unknown(entries, &["at", "round", "to", "through"], place, findings);
                }
                wrong_kind(Wanted::Corner, value, place, findings);
                None
            }
        }
    }

    fn schema() -> Value {
        json!({"oneOf": [FlatPoint::schema(), RoundedCorner::schema(), ArcCorner::schema()]})
    }
}
