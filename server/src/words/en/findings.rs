//! What is found in a draft.

use crate::words::groups::findings::Findings;

pub const WORDS: Findings = Findings {
    heading: "Findings of the draft of {design}",
    over_all: "{errors} errors, {warnings} warnings, over all choices. Errors stop publishing; warnings must be acknowledged.",
    over_first: "{errors} errors, {warnings} warnings, with the first choice of each option only. Errors stop publishing; warnings must be acknowledged.",
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
