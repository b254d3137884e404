//! Jobs that issue packs.

use crate::words::groups::jobs::Jobs;
use matchmark_core::words::Plural;

pub const WORDS: Jobs = Jobs {
    heading: "Jobs",
    about: "Each issues a pack for every kit of a revision. Begin one on the page of the revision.",
    none: "None yet.",
    caption: "Jobs, newest first",
    head_job: "Job",
    head_asked: "Asked for",
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
        one: "It was cancelled there: {count} kit was left as before.",
        other: "It was cancelled there: {count} kits were left as before.",
    },
    reload_link: "Look again",
    cancel_button: "Cancel after the kit in hand",
    cancel_sure_heading: "Cancel job {number}?",
    cancel_sure_left: Plural {
        one: "{count} kit has not had its turn and is left as before.",
        other: "{count} kits have not had their turn and are left as before.",
    },
    cancel_sure_issued: "Packs issued so far stay issued. A cancelled job does not go on; a new one does the rest.",
    cancel_sure_yes: "Yes, cancel it",
    kits_heading: "Kits",
    kits_caption: "What became of each kit",
    kits_head_result: "Result",
    kits_pack: "Pack {number}",
}
.checked();
