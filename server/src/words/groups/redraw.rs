//! The form that has a pack drawn.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// The form that has a pack drawn.
    Redraw {
        builder_button();
        desk_button();
        about();
        paper_label();
        units_label();
        units_mm();
        units_inch();
        units_fraction();
        hands_label();
        hands_hint();
        hands_both();
        hands_left();
        hands_right();
        thickness_label();
        thickness_hint();
        bar_across_label();
        bar_up_label();
        bar_hint();
        no_number();
        one_bar();
        sure_heading(serial);
        sure_replaced(number, revision, day);
        sure_left_stays(number, revision, day);
        sure_right_stays(number, revision, day);
        sure_beside_left(number, revision, day);
        sure_beside_right(number, revision, day);
        sure_tell();
        sure_yes();
        back();
    } + marked(Render, marked => Markup) {
        builder_heading(serial);
        desk_heading(serial);
    }
}
