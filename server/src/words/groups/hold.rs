//! A hold on a kit.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// A hold on a kit.
    Hold {
        standing(day, serial);
        standing_warnings();
        desk_standing(at);
        desk_ask(ask);
        title(serial);
        put_about();
        put_reason();
        put_reason_hint();
        put_ask();
        put_ask_hint();
        put_button();
        put_sure_heading(serial);
        put_sure_about();
        put_sure_ask(ask);
        put_sure_yes();
        lift_reason();
        lift_reason_hint();
        lift_button();
        lift_sure_heading(serial);
        lift_sure_about();
        lift_sure_yes();
        lifted_heading();
        lifted_line(from, to, reason, lift_reason);
        back();
    } + marked(Render, marked => Markup) {
        standing_ask(ask, serial);
        put_heading(serial);
        lift_heading(serial);
    }
}
