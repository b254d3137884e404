//! Many kits at once.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// Many kits at once.
    Import {
        heading();
        faults_heading();
        file_label();
        file_hint();
        button();
        done_title();
        done_heading(count);
        all_link();
    } + marked(Render, marked => Markup) {
        columns(columns);
    }
}
