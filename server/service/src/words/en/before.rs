//! That a pack was drawn before something of its kit was measured, or before a value was taken back.

use crate::words::groups::before::Before;

pub const WORDS: Before = Before {
    measured: "\"{what}\" was measured on {day}",
    taken_back: "the measured value of \"{what}\" was taken back on {day}",
    and: "{told}, {next}",
    drawn_without: "Out of date: {told}, and pack {pack} was drawn without it.",
    drawn_before: "Out of date: {told}, and pack {pack} was drawn before that.",
    draw_again: "Have the pack drawn again, and cut the parts that this changes from the new one.",
    draw_left_again: "Have the pack with the left-hand templates drawn again, and cut the parts that this changes from the new one.",
    draw_right_again: "Have the pack with the right-hand templates drawn again, and cut the parts that this changes from the new one.",
}
.checked();
