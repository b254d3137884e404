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
        all_link();
    } + counted {
        done_heading(count);
    } + marked(Render, marked => Markup) {
        columns(columns);
    }
}
