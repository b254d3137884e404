//! The state of a pack, in a tag.

matchmark_core::phrases! {
    /// The state of a pack, in a tag.
    PackStates {
        current();
        outdated();
        notice_first();
        superseded();
        withdrawn();
        recalled();
    }
}
