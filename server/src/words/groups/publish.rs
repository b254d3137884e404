//! Publishing a draft.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// Publishing a draft.
    Publish {
        has_errors();
        touched_heading();
        found_heading();
        form_heading();
        supersedes(revision);
        about();
        note_label();
        note_hint();
        class_label();
        warnings_legend();
        button();
        caption();
        head_parts();
        head_serials();
        not_comparable();
        changes_summary(revision);
        more(count);
        list_it();
        list_all(count);
        back();
    } + counted {
        touched(count, untouched, all);
    } + marked(Render, marked => Markup) {
        heading(design);
        change_line(part, change);
    }
}
