//! The list of designs and the page of one.

use crate::words::groups::designs::Designs;
use matchmark_core::words::Plural;

pub const WORDS: Designs = Designs {
    heading: "Designs",
    none: "None yet. Create one with POST /v1/designs, and save its draft through the API too.",
    caption: "Designs in order of their id",
    head_id: "Id",
    head_newest: "Newest revision",
    not_published: "not published",
    draft_heading: "Draft",
    draft_none: "None yet.",
    found: "{errors}, {warnings}.",
    found_first_choices: "{errors}, {warnings} with the first choice of each option only.",
    findings_link: "Read the findings",
    publish_link: "Publish",
    revisions_heading: "Revisions",
    revisions_none: "None published yet.",
    revisions_caption: "Revisions, newest first",
    revisions_letter: "Revision {letter}",
    notices_heading: "Notices",
    notices_none: "None raised.",
    notices_caption: "Notices, newest first",
    notices_head_step: "From, to",
    notices_head_text: "Text",
    notices_number: "Notice {number}",
    notices_step: "{from} to {to}",
    notices_kits: Plural {
        one: "{count} kit: {open} open, {seen} seen, {done} done",
        other: "{count} kits: {open} open, {seen} seen, {done} done",
    },
    raise_link: "Raise a notice",
}
.checked();
