//! What stands on all strips that are laid round a tube.

use crate::words::groups::strips::Strips;

pub(in crate::words) static WORDS: Strips = Strips {
    drill: "drill {diameter}, {hole}",
    overlap: "overlap: closure line at the left",
    overlap_in_short: "overlap",
}
.checked();
