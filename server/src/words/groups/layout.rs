//! What stands on every page.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// What stands on every page.
    Layout {
        skip_link();
        navigation();
        navigation_kit();
        navigation_look_up();
        navigation_kits();
        navigation_designs();
        navigation_notices();
        navigation_jobs();
        sign_in();
        sign_out();
        contact_link();
        cautions();
    } + marked(Render, marked => Markup) {
        document_title(page, supplier);
    }
}
