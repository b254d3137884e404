//! Members and what is asked of their ends.

use super::end_cut::EndCut;
use super::field::{record, words};
use super::kit::When;
use super::point::PointRef;
use super::scalar::{Angle, BendRadius, Gap, Length, Name, Text};

record! {
    /// A tube of the frame: straight with `from` and `to`, or bent with `path` and `radius`.
    pub struct Member most 25_000 {
        /// Id, unique in the design. Ends in `.L` or `.R` when `mirror` is set.
        required id: Name,
        /// Name of its section.
        required section: Name,
        /// Where a straight member starts.
        optional from: PointRef,
        /// Where a straight member ends.
        optional to: PointRef,
        /// Corner points of a bent member's centreline, first end to last.
        optional path: Vec<PointRef>,
        /// Centreline radius of its bends, mm.
        optional radius: BendRadius,
        /// Degrees by which the tube is turned about its direction of travel, right-handed, from where the rule puts its index line:
        /// facing up, or forward on a tube within 15 degrees of the vertical.
        optional roll: Angle,
        /// True to add the opposite-hand member, mirrored across y = 0, right after this one.
        optional mirror: bool,
        /// Explicit end cuts.
        optional ends: Ends,
        /// Root gap left at coped ends, mm; 0 when absent.
        optional gap: Gap,
        /// What is left long at the ends, to be trimmed when it is fitted.
        optional leave_long: LeaveLong,
        /// Part number that this member keeps whatever else is numbered; the opposite hand has it too where both are one part.
        optional part: Name,
        /// Options under which this member is there; always when absent.
        optional when: When,
        /// What it is in a roll structure, so that its size and bends are compared with published figures, for information.
        optional roll_structure: RollStructure,
        /// A word to the fitter.
        optional note: Text,
    }
}

record! {
    /// Explicit cuts of the two ends.
    pub struct Ends {
        /// Cut at the first end.
        optional from: EndCut,
        /// Cut at the last end.
        optional to: EndCut,
    }
}

record! {
    /// What is left long, mm, and when it is trimmed. Where nothing is said an end is trimmed as late as the frame can be built:
    /// before what stands in its way or is fitted to it is put in place, or when all else is.
    pub struct LeaveLong {
        /// At the first end.
        optional from: Length,
        /// At the last end.
        optional to: Length,
        /// Id of the member or plate after which the first end is trimmed, once all is done that is to be done after it.
        optional trim_from_after: Name,
        /// The same of the last end.
        optional trim_to_after: Name,
    }
}

words! {
    /// What a member is in a roll structure.
    pub enum RollStructure {
        /// The main hoop, behind the seats.
        MainHoop = "main_hoop",
        /// A hoop in front, or a lateral hoop.
        Hoop = "hoop",
        /// A stay of a hoop.
        Stay = "stay",
        /// Any other member of it.
        Brace = "brace",
    }
}
