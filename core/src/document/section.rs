//! Materials, tube sections and what stock there is of them.

use super::field::record;
use super::scalar::{Density, Diameter, Length, Name, Radius, SawCut, Springback, Strength, Text, Wall};

record! {
    /// A material.
    pub struct Material most 100 {
        /// Grade and condition, as a buyer would order it.
        required name: Text,
        /// Density in kg/m3; 7850 for carbon steel (EN 10220).
        required density: Density,
        /// Tensile strength in N/mm2, where it is to be compared with a roll-structure figure.
        optional tensile: Strength,
    }
}

record! {
    /// A tube section: `round` or `rect`.
    pub struct Section most 200 {
        /// A round tube.
        optional round: Round,
        /// A rectangular tube with rounded corners.
        optional rect: Rect,
        /// Name of its material.
        required material: Name,
        /// Degrees that a bend of 90 degrees opens again, from a trial bend of this section.
        optional springback: Springback,
        /// Shortest straight that the bender can hold between bends, mm.
        optional clamp: Length,
    }
}

record! {
    /// A round tube's size.
    pub struct Round {
        /// Outer diameter, mm.
        required od: Diameter,
        /// Wall, mm.
        required wall: Wall,
    }
}

record! {
    /// A rectangular tube's size. With no roll its height stands up and its width lies level.
    pub struct Rect {
        /// Outer width, mm: across the index line.
        required width: Diameter,
        /// Outer height, mm: from the side with the index line to the side opposite.
        required height: Diameter,
        /// Wall, mm.
        required wall: Wall,
        /// Outer corner radius as measured, mm; twice the wall is usual up to 6 mm (EN 10219-2; from memory).
        required corner: Radius,
    }
}

record! {
    /// Stock lengths of a section.
    pub struct Stock most 200 {
        /// Name of the section.
        required section: Name,
        /// Lengths in which it is bought, mm.
        required lengths: Vec<Length>,
        /// Width of the saw's cut for the stock plan, mm; 2 when absent (1.5 to 3 is common practice).
        optional kerf: SawCut,
        /// Cut off the first end of each bar, mm; 5 when absent.
        optional trim: Length,
        /// Shortest remnant worth keeping, mm; 500 when absent.
        optional min_remnant: Length,
    }
}
