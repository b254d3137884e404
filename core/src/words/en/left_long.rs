//! When what is left long is cut off.

use crate::words::groups::left_long::LeftLong;

pub(in crate::words) static WORDS: LeftLong = LeftLong {
    on_the_bench: "at step {step} of the fit-up order and no sooner, on the bench, before the part is put in place",
    in_place: "at step {step} of the fit-up order and no sooner, where it stands",
    cut_it: "left long by {length}: cut it {when}",
    until: "it stays {length} longer until step {step} of the fit-up order: measure from the line of its wrap",
    trimmed: "{long}, trimmed {when}",
    trimmed_apart: "{long}, end {end} trimmed {when}; end {other_end} trimmed {other_when}",
}
.checked();
