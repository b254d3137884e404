//! The cut sheet.

use crate::words::Plural;
use crate::words::groups::cut_sheet::CutSheet;

pub(in crate::words) static WORDS: CutSheet = CutSheet {
    lengths: "Overall: long point to long point as finished. Centreline: between the cuts along the centreline. Short: between the points of the two cuts nearest the middle, on the outside. Blank: length to saw from the bar.",
    head_number: "no.",
    head_mark: "mark",
    head_part_number: "part number",
    head_section: "section, {unit}",
    head_overall: "overall, {unit}",
    head_centreline: "centreline, {unit}",
    head_short: "short, {unit}",
    head_blank: "blank, {unit}",
    head_clock: "clock between ends, deg",
    head_bends: "bends",
    head_mass: "mass, kg",
    no_blank: "made",
    no_clock: "none",
    from_end: "end 1: {cut}",
    to_end: "end 2: {cut}",
    cut_by: "{cut} {angle}",
    cut_to_fit: "{cut}, {angle}",
    left_long: "left long {length}",
    handed: "handed, mirror image of {opposite}",
    only_moved: "same part as before, only the step is another",
    heading_frame: "The whole frame",
    caption_mass: "mass",
    frame_mass: "{kg} kg of tubes and plates as finished, without weld and paint",
    caption_centre: "centre of gravity",
    centre: "x {x}, y {y}, z {z} {unit}: x forward, y left, z up, from the frame's zero, see the page \"{about}\"",
    caption_surface: "surface to paint",
    surface: "{surface} outside, what welds cover not taken off",
    caption_weld: "weld",
    total: Plural { one: "Total: {tubes} tube, {kg} kg as finished", other: "Total: {tubes} tubes, {kg} kg as finished" },
    weld: Plural { one: "{length} in {joints} joint", other: "{length} in {joints} joints" },
}
.checked();
