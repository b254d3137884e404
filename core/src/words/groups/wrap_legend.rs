//! What the lines of a wrap mean.

crate::phrases! {
    /// What the lines of a wrap mean.
    WrapLegend {
        trim_line();
        outer_line();
        relief_line();
        long_points();
        index_lines();
        fold_lines();
        bevels();
        step_by_step();
    }
}
