//! What stands beside a wrap.

use crate::words::groups::wrap::Wrap;

pub(in crate::words) static WORDS: Wrap = Wrap {
    what: "{cut}, section {size}",
    what_with_number: "{cut}, section {size}, part number {number}",
    handed: "handed: its mirror image is {opposite}, {number}; never swap them or their wraps",
    handed_in_short: "handed: never swap it with {opposite}, {number}",
    clock: "clock {clock} from the long point of end 1 to that of end 2, clockwise as seen from end 1",
    clock_in_short: "clock {clock} from the long point of end 1 to that of end 2",
    this_long_point: "long point of this cut at {place}",
    other_long_point: "long point of the other end's cut at {place}",
    index_line: "index line 0 deg: the side that faces {facing} in the frame; the seam or a scribed line goes there",
    index_line_in_short: "index line 0 deg: the side that faces {facing} in the frame",
    round_tube: "tube: outer diameter {diameter}, wall {wall}",
    rectangular_tube: "tube: {size}, outer corner radius {radius}",
    circumference: "circumference {circumference}, printed {printed} to the closure line (paper {paper} allowed for)",
    circumference_in_short: "circumference {circumference}, printed {printed}",
    throat: "throat: the relief line stands back {length} at most",
    throat_at: "throat: the relief line stands back {length} at most, at {clock}",
    hole: "hole {hole}: drill {diameter}, centre {height} above the base line",
    misses: "misses its target from {from} to {to}, by up to {by}: no line is printed there, ask before cutting",
    set_out: "set-out {distance} {datum}",
    set_out_or_sawn_end: "set-out {distance} {datum}, or from its sawn end while it is uncut",
    overall: "overall {overall}, long point to long point",
    overall_to_trim_line: "overall {overall}, long point to long point: before you cut, measure it from there to the trim line",
    overall_to_outer_line: "overall {overall}, long point to long point: before you cut, measure it from there to the highest point of the outer line",
    overall_to_trim_line_in_short: "overall {overall}: check it to the trim line",
    overall_to_outer_line_in_short: "overall {overall}: check it to the highest point of the outer line",
    reach_to_trim_line: "before you cut, measure from there to the trim line: {reach}",
    reach_to_outer_line: "before you cut, measure from there to the highest point of the outer line: {reach}",
    reach_to_trim_line_in_short: "{reach} to the trim line: check it",
    reach_to_outer_line_in_short: "{reach} to the highest point of the outer line: check it",
}
.checked();
