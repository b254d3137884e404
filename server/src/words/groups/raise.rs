//! Raising a notice.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// Raising a notice.
    Raise {
        about();
        from_label();
        to_label();
        letter(letter);
        class_label();
        class_missing();
        text_label();
        text_hint();
        button();
        back();
    } + marked(Render, marked => Markup) {
        heading(design);
    }
}
