//! What is found in a draft.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// What is found in a draft.
    Findings {
        over_all(errors, warnings);
        over_first(errors, warnings);
        none();
        caption();
        head_weight();
        head_action();
        head_code();
        head_place();
        error();
        warning();
        remark();
        back();
    } + counted {
        errors(count);
        warnings(count);
    } + marked(Render, marked => Markup) {
        heading(design);
    }
}
