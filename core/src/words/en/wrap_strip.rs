//! What stands on the strip of a wrap.

use crate::words::groups::wrap_strip::WrapStrip;

pub(in crate::words) static WORDS: WrapStrip = WrapStrip {
    base_line: "base line: set to the mark at {distance} {datum}",
    arrow: "to the other end (end {end})",
    not_for: "not for {opposite}",
    side: "side {clock}°",
    trim_line: "trim line",
    outer_line: "outer line",
    relief_line: "relief line",
    waste: "waste",
    misses: "misses by {length}",
    this_long_point: "long point of this cut, {clock}°",
    this_long_point_in_short: "this long point, {clock}°",
    other_long_point: "other end's long point, {clock}°",
    other_long_point_in_short: "other long point, {clock}°",
    both_long_points: "long points of both cuts, {clock}°",
    both_long_points_in_short: "both long points, {clock}°",
}
.checked();
