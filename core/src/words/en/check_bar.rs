//! The bars by which the scale of a print is checked.

use crate::words::groups::check_bar::CheckBar;

pub(in crate::words) static WORDS: CheckBar = CheckBar {
    across: "Measure between the outer ticks: {length} across, within {allowed}. If not, do not cut.",
    up: "Measure between the outer ticks: {length} up, within {allowed}. If not, do not cut.",
}
.checked();
