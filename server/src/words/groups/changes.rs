//! Parts by what becomes of them, in a list.

matchmark_core::phrases! {
    /// Parts by what becomes of them, in a list.
    Changes {
        none();
    } + counted {
        unchanged(count);
        moved(count);
        to_rework(count);
        to_replace(count);
        added(count);
        removed(count);
    }
}
