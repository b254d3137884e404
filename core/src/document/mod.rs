//! The design document as written: its types, how it is read, what is found wrong with it, and its canonical hash.

mod canonical;
mod design;
mod field;
mod finding;
mod json;
mod names;
mod place;
mod read;
mod scalar;

pub use canonical::Canonical;
pub use design::{
    Design, Direction, EndCut, Ends, FORMAT, Format, LeaveLong, Material, Member, Mitre, Point, PointRef, Round,
    Section,
};
pub use finding::{Finding, Findings, Severity};
pub use json::MOST_BYTES;
pub(crate) use names::other_hand;
pub use place::Place;
pub use read::{Reading, read, schema};
pub use scalar::{BendRadius, Component, Coordinate, Density, Diameter, Gap, Length, Name, Springback, Text, Wall};
