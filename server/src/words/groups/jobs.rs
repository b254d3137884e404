//! Jobs that issue packs.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// Jobs that issue packs.
    Jobs {
        heading();
        about();
        none();
        caption();
        head_job();
        head_asked();
        number(number);
        job_waiting(sums);
        job_running(sums);
        job_cancelling(sums);
        job_cancelled(sums);
        job_done(sums);
        far_label();
        far_value(far, all);
        far_sentence(far, all);
        reload_link();
        cancel_button();
        cancel_sure_heading(number);
        cancel_sure_issued();
        cancel_sure_yes();
        kits_heading();
        kits_caption();
        kits_head_result();
        kits_pack(number);
    } + counted {
        far_left(count);
        cancel_sure_left(count);
    } + marked(Render, marked => Markup) {
        job_heading(number, design, revision);
    }
}
