//! Whose kit it is.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// Whose kit it is.
    Person {
        erased();
        caption();
        name();
        address();
        on_record();
        back();
    } + marked(Render, marked => Markup) {
        heading(serial);
    }
}
