//! How figures and what they measure are said.

crate::phrases! {
    /// How figures and what they measure are said.
    Figures {
        millimetres();
        inches();
        angle(figure);
        towards_90(clock, length);
        towards_270(clock, length);
        from_end();
        to_end();
        long_at_from(length);
        long_at_to(length);
        long_at_both(length);
        long_at_each(from, to);
    }
}
