//! What this version of the service computes for a revision.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// What this version of the service computes for a revision.
    Figures {
        agrees(version);
        held(version, letter);
        every_kit();
        recorded_alike(version, day);
        take_button();
        take_sure_heading(letter);
        take_sure_about(letter);
        take_sure_care();
        take_sure_yes();
        back();
    } + counted {
        recorded_unlike(count, version, day);
    } + marked(Render, marked => Markup) {
        heading(letter, design);
    }
}
