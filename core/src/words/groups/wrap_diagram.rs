//! The two small diagrams beside a wrap.

crate::phrases! {
    /// The two small diagrams beside a wrap.
    WrapDiagram {
        set_out(length);
        base();
        bend_starts(bend);
        bend_ends(bend);
        this_end(end);
        drawn_straight();
        middle_left_out();
        heavy_is_both();
        heavy_is_this();
        dashed_is_other();
        seen_from();
    }
}
