//! What is to be done about one value of the boxes of a kit.

use crate::words::groups::boxes::BoxFields;

pub const WORDS: BoxFields = BoxFields {
    most: "Give {most} boxes at most.",
    packing: "Give 0 to 1000 kg.",
    no_part: "The kit has no part {part}. Its cut sheet and plates list its parts.",
    twice: "{part} is already in a box.",
}
.checked();
