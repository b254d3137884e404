//! What forms have in common, and the page that asks once more.

use crate::words::groups::forms::Forms;

pub const WORDS: Forms = Forms {
    faults_heading: "Please correct this",
    fault_label: "Correct this:",
    sent_before: "You sent this form before with other values, and those took effect. Check whether that is what you want. If not, send this form.",
    sure_no_leave: "No, leave it as it is",
    sure_no_back: "No, go back to the form",
}
.checked();
