//! A page before it is furnished and numbered.

use crate::drawing::{Area, Drawing};

/// A page before it is furnished and numbered.
pub(in crate::pack) struct Content {
    /// Its entries in the outline; none when the page before it covers it.
    pub(in crate::pack) bookmarks: Vec<String>,
    /// What began on a page before and goes on here: the page is titled with it too, but is not where it is found.
    pub(in crate::pack) carried: Vec<String>,
    pub(in crate::pack) drawing: Drawing,
    /// Places that lead to the page with an entry in the outline.
    pub(in crate::pack) links: Vec<(Area, String)>,
    /// True when it is laid on metal and must be at true scale.
    pub(in crate::pack) is_template: bool,
}

impl Content {
    pub(in crate::pack) fn new(bookmarks: Vec<String>, drawing: Drawing) -> Self {
        Self { bookmarks, carried: Vec::new(), drawing, links: Vec::new(), is_template: false }
    }
}
