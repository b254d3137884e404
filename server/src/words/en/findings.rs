//! What is found in a draft.

use crate::words::groups::findings::Findings;
use matchmark_core::words::Plural;

pub const WORDS: Findings = Findings {
    heading: "Findings of the draft of {design}",
    over_all: "{errors}, {warnings}, over all choices. Errors stop publishing; warnings must be acknowledged.",
    over_first: "{errors}, {warnings}, with the first choice of each option only. Errors stop publishing; warnings must be acknowledged.",
    errors: Plural { one: "{count} error", other: "{count} errors" },
    warnings: Plural { one: "{count} warning", other: "{count} warnings" },
    none: "Nothing was found.",
    caption: "Findings, errors first",
    head_weight: "Weight",
    head_action: "What to do",
    head_code: "Code",
    head_place: "Place",
    error: "error",
    warning: "warning",
    remark: "remark",
    back: "Back to the design",
}
.checked();
