//! The page of a request that failed.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// The page of a request that failed.
    Failed {
        back();
        back_to_kit();
    } + marked(Render, marked => Markup) {
        request(id);
    }
}
