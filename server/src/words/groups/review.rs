//! The review of a draft.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// The review of a draft.
    Review {
        by_you();
        freeze_button();
        thaw_button();
        freeze_first();
        somebody_else();
        nobody_else();
        thaw_sure_heading(design);
        thaw_sure_yes();
    } + marked(Render, marked => Markup) {
        frozen(at, by, save, writer);
        content(sha256);
        open(save, writer);
        by_token(token);
        thaw_sure_about(at, by);
    }
}
