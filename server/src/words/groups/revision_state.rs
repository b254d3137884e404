//! The state of a revision, in a tag.

matchmark_core::phrases! {
    /// The state of a revision, in a tag.
    RevisionStates {
        published();
        superseded();
        withdrawn();
        recalled();
    }
}
