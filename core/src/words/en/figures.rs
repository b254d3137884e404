//! How figures and what they measure are said.

use crate::words::groups::figures::Figures;

pub(in crate::words) static WORDS: Figures = Figures {
    millimetres: "millimetres",
    inches: "inches",
    angle: "{figure} deg",
    towards_90: "{clock}, {length} round the tube from 0 towards 90",
    towards_270: "{clock}, {length} round the tube from 0 towards 270",
    from_end: "1",
    to_end: "2",
    long_at_from: "{length} at end 1",
    long_at_to: "{length} at end 2",
    long_at_both: "{length} at both ends",
    long_at_each: "{from} at end 1, {to} at end 2",
}
.checked();
