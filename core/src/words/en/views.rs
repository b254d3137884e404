//! Views of a frame, and what is named in them.

use crate::words::groups::views::Views;

pub(in crate::words) static WORDS: Views = Views {
    from_left: "seen from the left",
    from_above: "seen from above",
    from_front: "seen from the front",
    left: "left",
    right: "right",
    front: "front",
    rear: "rear",
    base_plane: "base plane",
}
.checked();
