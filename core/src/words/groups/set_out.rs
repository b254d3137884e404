//! From where a set-out is measured.

crate::phrases! {
    /// From where a set-out is measured.
    SetOut {
        sawn_end();
        long_point();
        long_end(length);
        mark_of_start(bend, length);
        mark_of_end(bend, length);
        start_on_tube(bend);
        end_on_tube(bend);
    }
}
