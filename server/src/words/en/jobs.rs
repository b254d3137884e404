//! Jobs that issue packs.

use crate::words::groups::jobs::Jobs;
use matchmark_core::words::Plural;

pub const WORDS: Jobs = Jobs {
    heading: "Jobs",
    about: "A job issues a pack for every kit of a revision. Start one on the page of the revision.",
    none: "None yet.",
    caption: "Jobs, newest first",
    head_job: "Job",
    head_asked: "Created",
    number: "Job {number}",
    job_heading: "Job {number}: packs of {design} {revision}",
    job_waiting: "The job is waiting: {sums}.",
    job_running: "The job is running: {sums}.",
    job_cancelling: "The job is cancelling: {sums}.",
    job_cancelled: "The job is cancelled: {sums}.",
    job_done: "The job is done: {sums}.",
    far_label: "Kits with a result",
    far_value: "{far} of {all}",
    far_sentence: "{far} of {all}.",
    far_left: Plural {
        one: "The job was cancelled there: {count} kit was left unchanged.",
        other: "The job was cancelled there: {count} kits were left unchanged.",
    },
    reload_link: "Look again",
    cancel_button: "Cancel after the current kit",
    cancel_sure_heading: "Cancel job {number}?",
    cancel_sure_left: Plural {
        one: "{count} kit is still waiting and is left unchanged.",
        other: "{count} kits are still waiting and are left unchanged.",
    },
    cancel_sure_issued: "Packs issued so far stay issued. A cancelled job cannot be resumed, but a new job can do the rest.",
    cancel_sure_yes: "Yes, cancel it",
    kits_heading: "Kits",
    kits_caption: "The result for each kit",
    kits_head_result: "Result",
    kits_pack: "Pack {number}",
}
.checked();
