//! What stands on every page.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// What stands on every page.
    Layout {
        skip_link();
        navigation();
        way_kit();
        way_look_up();
        way_kits();
        way_designs();
        way_notices();
        way_jobs();
        sign_in();
        sign_out();
        contact_link();
        cautions();
    } + marked(Render, marked => Markup) {
        document_title(page, supplier);
    }
}
