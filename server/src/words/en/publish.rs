//! Publishing a draft.

use crate::words::groups::publish::Publish;
use matchmark_core::words::Plural;

pub const WORDS: Publish = Publish {
    heading: "Publish the draft of {design}",
    has_errors: "The draft has errors, so that it cannot be published.",
    touched_heading: "Whom it touches",
    found_heading: "What was found",
    form_heading: "Publish",
    supersedes: "It supersedes revision {revision}, which is in force.",
    about: "A revision never changes afterwards. Nobody's kit is moved by it; raise a notice when holders have to do something.",
    note_label: "What changed and why",
    note_hint: "For everyone who holds an earlier revision.",
    class_label: "How much it matters to them",
    warnings_legend: "Warnings that were read and are as meant",
    button: "Publish this draft",
    touched: Plural { one: "{count} kit touched, {untouched} as they are; {all} in all.", other: "{count} kits touched, {untouched} as they are; {all} in all." },
    caption: "Kits by revision and choices",
    head_parts: "Parts",
    head_serials: "Serials",
    not_comparable: "cannot be compared: the draft does not have these choices",
    changes_summary: "What changes for kits of revision {revision}",
    change_line: "{part}: {change}",
    more: "and {count} more.",
    list_it: "List it",
    list_all: "List all {count}",
    back: "Back to the design",
}
.checked();
