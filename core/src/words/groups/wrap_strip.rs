//! What stands on the strip of a wrap.

crate::phrases! {
    /// What stands on the strip of a wrap.
    WrapStrip {
        base_line(distance, datum);
        arrow(end);
        not_for(opposite);
        side(clock);
        trim_line();
        outer_line();
        relief_line();
        waste();
        misses(length);
        this_long_point(clock);
        this_long_point_in_short(clock);
        other_long_point(clock);
        other_long_point_in_short(clock);
        both_long_points(clock);
        both_long_points_in_short(clock);
    }
}
