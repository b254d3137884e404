//! What is said of check dimensions.

use crate::words::groups::checks::Checks;

pub(in crate::words) static WORDS: Checks = Checks {
    head_number: "no.",
    head_what: "what is measured",
    head_class: "class",
    head_nominal: "nominal, {unit}",
    head_allowed: "allowed, {unit}",
    head_tacked: "tacked, {unit}",
    head_welded: "welded, {unit}",
    how_to_measure: "Measure each when the frame is tacked and again when it is welded, and write down what you read. The words say from where to where. \"In line with\" another tube: lay a straight edge along the middle of that tube and mark where it crosses the middle of the side named. Places on centrelines: measure from the middle of one tube to the middle of the other, or from the same side of both. Of two diagonals the difference matters most. Allowed: linear tolerance of ISO 13920 for the class; it says what good shop work reaches, not what a rule book asks.",
    sketches: "Each sketch shows from where to where the dimensions listed under it run, by their numbers. It is isometric, from the front, the left and above, and not to scale.",
    heading_declared: "Named by the design",
    heading_proposed: "Further ones, reckoned from the frame",
    no_tolerance: "none",
    named: "{name}: {words}",
}
.checked();
