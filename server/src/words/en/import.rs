//! Many kits at once.

use crate::words::groups::import::Import;
use matchmark_core::words::Plural;

pub const WORDS: Import = Import {
    heading: "Import many kits",
    faults_heading: "No kit was registered. Correct these lines and send all of it again.",
    columns: "The first line names the columns: {columns}. You may leave out the last two. Either all kits are registered or none is.",
    file_label: "The file",
    file_hint: "Paste it here: comma-separated values, one line for each kit.",
    button: "Register all of them",
    done_title: "Kits imported",
    done_heading: Plural { one: "{count} kit registered", other: "{count} kits registered" },
    all_link: "All kits",
}
.checked();
