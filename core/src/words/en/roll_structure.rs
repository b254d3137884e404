//! What a member is in a roll structure.

use crate::words::groups::roll_structure::RollStructureWords;

pub(in crate::words) static WORDS: RollStructureWords =
    RollStructureWords { main_hoop: "main hoop", hoop: "hoop", stay: "stay", brace: "brace" }.checked();
