//! Which way something faces in the frame.

crate::phrases! {
    /// Which way something faces in the frame.
    Facing {
        up();
        down();
        forward();
        back();
        left();
        right();
    }
}
