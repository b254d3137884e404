//! A page before it is furnished and numbered.

use super::numbering::Pointer;
use crate::drawing::{Area, Drawing};

/// A page before it is furnished and numbered.
pub(in crate::pack) struct Content {
    /// Its entries in the outline; none when the page before it covers it.
    pub(in crate::pack) bookmarks: Vec<String>,
    /// What began on a page before and goes on here: the page is titled with it too, but is not where it is found.
    pub(in crate::pack) carried: Vec<String>,
    pub(in crate::pack) drawing: Drawing,
    /// What is found on it and is in no outline.
    pub(in crate::pack) holds: Vec<String>,
    /// Places that lead to the page with an entry in the outline.
    pub(in crate::pack) links: Vec<(Area, String)>,
    /// Places at which the numbers of other pages are written.
    pub(in crate::pack) pointers: Vec<Pointer>,
    /// True when it is laid on metal and must be at true scale.
    pub(in crate::pack) is_template: bool,
}

impl Content {
    pub(in crate::pack) fn new(bookmarks: Vec<String>, drawing: Drawing) -> Self {
        Self {
            bookmarks,
            carried: Vec::new(),
            drawing,
            holds: Vec::new(),
            links: Vec::new(),
            pointers: Vec::new(),
            is_template: false,
        }
    }
}
