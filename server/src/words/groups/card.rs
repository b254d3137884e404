//! The access card of a kit.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// The access card of a kit.
    Card {
        print_now();
        code();
        back();
        sure_heading(serial);
        sure_code_ends();
        sure_shown_once();
        sure_yes();
    } + marked(Render, marked => Markup) {
        heading(serial);
    }
}
