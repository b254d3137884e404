//! How to read and use a wrap, step by step, and what holds in special cases.

crate::phrases! {
    /// How to read and use a wrap, step by step, and what holds in special cases.
    Reading {
        heading_steps();
        marks_and_numbers();
        find_part();
        scribe_index();
        saw_blank();
        set_out();
        lay_base();
        turn_wrap();
        dash_dot();
        measure_first();
        trace_line();
        open_throat();
        heading_special();
        angles_of_surfaces();
        left_long();
        handed();
        rectangular();
        hole_strips();
        plates();
        wall_misses();
    }
}
