//! Parts by what becomes of them, in a list.

use crate::words::groups::changes::Changes;
use matchmark_core::words::Plural;

pub const WORDS: Changes = Changes {
    none: "no parts",
    unchanged: Plural { one: "{count} unchanged", other: "{count} unchanged" },
    moved: Plural { one: "{count} moved in place", other: "{count} moved in place" },
    to_rework: Plural { one: "{count} to rework", other: "{count} to rework" },
    to_replace: Plural { one: "{count} to replace", other: "{count} to replace" },
    added: Plural { one: "{count} added", other: "{count} added" },
    removed: Plural { one: "{count} removed", other: "{count} removed" },
}
.checked();
