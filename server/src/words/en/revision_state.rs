//! The state of a revision, in a tag.

use crate::words::groups::revision_state::RevisionStates;

pub const WORDS: RevisionStates =
    RevisionStates { published: "published", superseded: "superseded", withdrawn: "withdrawn", recalled: "recalled" }
        .checked();
