//! A page before it is furnished and numbered.

use super::numbering::Pointer;
use crate::drawing::{Area, Drawing};
use crate::pack::OnPage;

/// A page before it is furnished and numbered.
pub(in crate::pack) struct Content {
    /// What begins on it, its entries in the outline; none when the page before it covers it.
    pub(in crate::pack) begins: Vec<OnPage>,
    /// What began on a page before and goes on here: the page is titled with it too, but is not where it is found.
    pub(in crate::pack) carried: Vec<OnPage>,
    pub(in crate::pack) drawing: Drawing,
    /// Names of the check dimensions that are found on it.
    pub(in crate::pack) checks: Vec<String>,
    /// Places that lead to the page on which something begins.
    pub(in crate::pack) links: Vec<(Area, OnPage)>,
    /// Places at which the numbers of other pages are written.
    pub(in crate::pack) pointers: Vec<Pointer>,
    /// True when it is laid on metal and must be at true scale.
    pub(in crate::pack) is_template: bool,
}

impl Content {
    pub(in crate::pack) fn new(begins: Vec<OnPage>, drawing: Drawing) -> Self {
        Self {
            begins,
            carried: Vec::new(),
            drawing,
            checks: Vec::new(),
            links: Vec::new(),
            pointers: Vec::new(),
            is_template: false,
        }
    }
}
