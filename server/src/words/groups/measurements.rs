//! The form for measured values.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// The form for measured values.
    Measurements {
        about();
        hint(least, most, nominal);
        outside(least, most);
        no_number();
        button();
        back();
    } + marked(Render, marked => Markup) {
        heading(serial);
    }
}
