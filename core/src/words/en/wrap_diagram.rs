//! The two small diagrams beside a wrap.

use crate::words::groups::wrap_diagram::WrapDiagram;

pub(in crate::words) static WORDS: WrapDiagram = WrapDiagram {
    set_out: "set-out {length}",
    base: "base",
    bend_starts: "bend {bend} starts",
    bend_ends: "bend {bend} ends",
    this_end: "end {end}, this wrap",
    drawn_straight: "drawn straight",
    middle_left_out: "middle left out",
    heavy_is_both: "heavy: both ends",
    heavy_is_this: "heavy: this end",
    dashed_is_other: "dashed: other end",
    seen_from: "seen from end 1",
}
.checked();
