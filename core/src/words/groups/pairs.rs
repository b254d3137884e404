//! What is said of left and right parts.

crate::phrases! {
    /// What is said of left and right parts.
    Pairs {
        head_left();
        head_left_number();
        head_right();
        head_right_number();
        head_differ(unit);
        head_both();
        head_number();
        heading_handed();
        none_handed();
        how_to_tell();
        legend();
        heading_equal();
        goes_in_either();
        tell_left(words);
        tell_right(words);
        left_and_right(stem);
        two(left, right);
        square();
        long_point(clock);
    }
}
