//! What sets a kit apart.

crate::phrases! {
    /// What sets a kit apart.
    KitFacts {
        choice(option, choice);
        measured(gauge, length);
        rework_pages(notice, class, from, to);
        done_then_measured(notice, day);
        done(notice, day);
        done_by_holder(notice, day);
        done_for_holder(notice, day);
    }
}
