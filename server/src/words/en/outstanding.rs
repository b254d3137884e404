//! Notices that builders have not done yet.

use crate::words::groups::outstanding::Outstanding;

pub const WORDS: Outstanding = Outstanding {
    heading: "Notices outstanding",
    heading_one: "Notice {number} of {design}",
    none: "None.",
    caption: "Kits and their notices, in order of serial",
    head_raised: "Raised",
    head_how_far: "Progress",
    notice: "{number} of {design}, {from} to {to}",
    open: "open",
    seen: "seen",
    done: "done",
}
.checked();
