//! How much a change matters: in a tag, and to choose from.

use crate::words::groups::change_class::ChangeClasses;

pub const WORDS: ChangeClasses = ChangeClasses {
    mandatory: "mandatory",
    recommended: "recommended",
    optional: "optional",
    choose: "Choose",
    choose_mandatory: "Mandatory: the old parts must not be used as they are",
    choose_recommended: "Recommended: the frame is better for it",
    choose_optional: "Optional: a matter of preference",
}
.checked();
