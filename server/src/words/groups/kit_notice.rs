//! A notice on the page of a kit, and its answers.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// A notice on the page of a kit, and its answers.
    KitNotices {
        step(day, from, to);
        stopped(revision);
        pages_link();
        answer_for_holder();
        seen_button();
        seen_button_desk();
        seen(when);
        done_button();
        done_button_desk();
        work_unknown();
        held();
        sheet_first();
        as_designed();
        made_already(notice, day, parts);
        work_in_english();
        done_sure_heading(number, serial);
        done_sure_about(number);
        done_sure_desk(serial);
        done_sure_yes();
        done_sure_yes_desk();
    } + marked(Render, marked => Markup) {
        heading(number, class);
        work_line(part, work);
    }
}
