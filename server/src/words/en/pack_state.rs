//! The state of a pack, in a tag.

use crate::words::groups::pack_state::PackStates;

pub const WORDS: PackStates = PackStates {
    current: "current",
    outdated: "out of date",
    notice_first: "not yet",
    superseded: "superseded",
    withdrawn: "withdrawn",
    recalled: "recalled",
}
.checked();
