//! Where a scanned code leads.

use crate::words::groups::page_status::PageStatuses;

pub const WORDS: PageStatuses = PageStatuses {
    title: "{heading}: page status",
    current: "Current",
    kept: "Kept beside the pack of changes",
    outdated: "Out of date",
    notice_first: "Not yet: read what comes first",
    superseded: "Superseded",
    withdrawn: "Withdrawn",
    recalled: "Recalled: stop",
    on_hold: "On hold: cut nothing",
    unknown: "Unknown",
    compare_heading: "Compare with the paper in your hand",
    belongs_to: "Belongs to",
    belongs_to_stop_sheet: "a stop sheet",
    page: "Page",
    page_of: "{page} of {pages}",
    issued: "Date of issue",
    check_again: "This answer holds today. Check again before you cut.",
}
.checked();
