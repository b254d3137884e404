//! What sets a kit apart.

crate::phrases! {
    /// What sets a kit apart.
    KitFacts {
        choice(option, choice);
        measured(gauge, length);
        rework_pages(notice, class, from, to);
    }
}
