//! What forms have in common, and the page that asks once more.

use crate::words::groups::forms::Forms;

pub const WORDS: Forms = Forms {
    faults_heading: "Please correct this",
    fault_label: "Correct this:",
    sent_before: "This form was sent before with something else filled in, and that counted. Look whether it did what you want; if not, send this one.",
    sure_no_leave: "No, leave it as it is",
    sure_no_back: "No, go back to the form",
}
.checked();
