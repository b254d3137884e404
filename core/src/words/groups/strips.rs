//! What stands on all strips that are laid round a tube.

crate::phrases! {
    /// What stands on all strips that are laid round a tube.
    Strips {
        drill(diameter, hole);
        overlap();
        overlap_in_short();
    }
}
