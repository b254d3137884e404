//! Publishing a draft.

use crate::words::groups::publish::Publish;
use matchmark_core::words::Plural;

pub const WORDS: Publish = Publish {
    heading: "Publish the draft of {design}",
    has_errors: "The draft has errors, so it cannot be published.",
    touched_heading: "Kits affected",
    found_heading: "Findings",
    form_heading: "Publish",
    supersedes: "It supersedes revision {revision}, which is in force.",
    about: "A revision never changes after it is published. Publishing moves no kit. If holders have to do something, raise a notice.",
    note_label: "What changed and why",
    note_hint: "For everyone who holds an earlier revision.",
    class_label: "How much it matters to them",
    warnings_legend: "Warnings that I have read and accept",
    button: "Publish this draft",
    touched: Plural { one: "{count} kit affected, {untouched} not affected, {all} in all.", other: "{count} kits affected, {untouched} not affected, {all} in all." },
    caption: "Kits by revision and choices",
    head_parts: "Parts",
    head_serials: "Serials",
    not_comparable: "not comparable: the draft does not have these choices",
    changes_summary: "What changes for kits of revision {revision}",
    change_line: "{part}: {change}",
    more: "and {count} more.",
    list_it: "Show it",
    list_all: "Show all {count}",
    back: "Back to the design",
}
.checked();
