//! The design document as written: its types, how it is read, what is found wrong with it, and its canonical hash.

mod canonical;
mod design;
mod end_cut;
mod field;
mod finding;
mod hole;
mod json;
mod kit;
mod member;
mod names;
mod one_kit;
mod place;
mod plate;
mod point;
mod read;
mod scalar;
mod section;
mod unseen;

pub use canonical::Canonical;
pub use design::{Design, FORMAT, Format};
pub use end_cut::{EndCut, FaceCut, Mitre, Plug, Sleeve};
pub use finding::{Finding, Findings, Severity};
pub use hole::Hole;
pub use json::MOST_BYTES;
pub(crate) use json::{parse, without_mark};
pub use kit::{Axis, Check, Choice, Class, Gauge, Step, When};
pub use member::{Ends, LeaveLong, Member, RollStructure};
pub use names::other_hand;
pub use one_kit::OneKit;
pub use place::{JsonPlace, pointer_step};
pub use plate::{ArcCorner, Corner, Plate, PlateHole, PlatePlace, RoundedCorner};
pub use point::{Direction, FlatPoint, Point, PointRef};
pub(crate) use read::design;
pub use read::{Reading, read, schema};
pub use scalar::{
    Angle, BendRadius, Component, Coordinate, Density, Diameter, Gap, HoleDiameter, Length, Measure, Name, Radius,
    SawCut, Springback, Station, Strength, Text, Wall, is_hidden,
};
pub use section::{Material, Rect, Round, Section, Stock};
pub use unseen::unseen;
