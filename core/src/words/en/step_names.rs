//! How steps are called beside those of another order.

use crate::words::groups::step_names::StepNames;

pub(in crate::words) static WORDS: StepNames = StepNames {
    of_notice: "N{notice}.{step}",
    was: "step {step} before",
    changed: "changed, step {step} before",
    new: "new",
    in_place: "in place of step {step}",
    moved_to_start: "in place of step {step}, but before all that are kept",
    moved_after: "in place of step {step}, but after step {after}",
    new_at_start: "new, before all that are kept",
    new_after: "new, after step {after}",
}
.checked();
