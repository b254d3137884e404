//! Hole strips at true scale.

use crate::words::groups::hole_strips::HoleStrips;

pub(in crate::words) static WORDS: HoleStrips = HoleStrips {
    title: "Holes {part}",
    title_after: "Holes {part} after bend {bend}",
    head_hole: "hole",
    head_for: "for",
    head_drill: "drill, {unit}",
    head_along: "along the tube from the datum, {unit}",
    head_clock: "clock",
    head_round: "round the tube from 0 deg, {unit}",
    section: "section {size}",
    datum_long_point: "datum: the long point of the cut at end 1",
    datum_bend: "datum: the tangent mark where bend {bend} ends",
    circumference: "circumference {circumference}, printed width {printed} to the closure line (paper {paper} allowed for)",
    glued: "Glued together it is {height} high from edge to edge.",
    by_measure: "To mark by measure: scribe the index lines, measure along the tube from the datum, and round it from the line at 0 deg towards the one at 90 deg; check each against its clock angle.",
    long_points: "Before you punch: on this strip the long point of end 1 lies at {first}, that of end 2 at {second}. Where those of the tube do not, its index lines were drawn for another mark of its part number: turn the strip until both do.",
    long_point: "Before you punch: on this strip the long point of end {end} lies at {clock}. Where that of the tube does not, its index lines were drawn for another mark of its part number: turn the strip until it does.",
    lower_edge: "lower edge: {length} from the long point of end 1",
    lower_edge_after: "lower edge: {length} from the end of bend {bend}",
    upper_edge: "upper edge: {length} from the long point of end 1",
    upper_edge_after: "upper edge: {length} from the end of bend {bend}",
    arrow: "arrow points to end 2",
}
.checked();
