//! The state of a job in a cell, what became of a kit, and the sums of both.

use crate::words::groups::job_state::JobStates;
use matchmark_core::words::Plural;

pub const WORDS: JobStates = JobStates {
    waiting: "waiting",
    running: "running",
    cancelling: "cancelling",
    cancelled: "cancelled",
    done: "done",
    kit_issued: "issued",
    kit_current: "already current",
    kit_refused: "refused",
    kit_left: "left as it was",
    sums_none: "no kits",
    sums_issued: Plural { one: "{count} issued", other: "{count} issued" },
    sums_current: Plural { one: "{count} already current", other: "{count} already current" },
    sums_refused: Plural { one: "{count} refused", other: "{count} refused" },
    sums_left: Plural { one: "{count} left", other: "{count} left" },
    sums_waiting: Plural { one: "{count} waiting", other: "{count} waiting" },
}
.checked();
