//! Holes through members.

use super::field::record;
use super::kit::When;
use super::scalar::{Angle, Coordinate, HoleDiameter, Name, Station, Text};

record! {
    /// A hole drilled into a member, square to its wall.
    pub struct Hole most 5_000 {
        /// Id of the member.
        required member: Name,
        /// Where its centre lies: mm along the centreline from the `from` point.
        required station: Station,
        /// Clock angle of its centre, degrees; on a rectangular tube 0, 90, 180 or 270.
        required clock: Angle,
        /// On a rectangular tube: mm from the middle of the side, towards growing clock angles.
        optional offset: Coordinate,
        /// Diameter, mm.
        required diameter: HoleDiameter,
        /// True when it goes through both walls.
        optional both_walls: bool,
        /// True to drill the opposite hand's member too, mirrored; the hole's name ends in `.L` or `.R` then.
        optional mirror: bool,
        /// Options under which it is drilled; always when absent.
        optional when: When,
        /// What it is for.
        optional note: Text,
    }
}
