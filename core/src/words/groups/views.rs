//! Views of a frame, and what is named in them.

crate::phrases! {
    /// Views of a frame, and what is named in them.
    Views {
        from_left();
        from_above();
        from_front();
        left();
        right();
        front();
        rear();
        base_plane();
    }
}
