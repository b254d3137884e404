//! What tells a left tube from the right one.

crate::phrases! {
    /// What tells a left tube from the right one.
    Hand {
        look(end, top, found);
        until_drilled(seen);
        top_long_point_here();
        top_long_point_of(end);
        top_throat_here();
        top_throat_of(end);
        top_hole_from_end(diameter, along, end);
        top_hole_after_bend(diameter, along, bend);
        top_bend(bend);
        long_point_here_left(degrees);
        long_point_of_left(end, degrees);
        throat_here_left(degrees);
        throat_of_left(end, degrees);
        hole_from_end_left(diameter, along, end, degrees);
        hole_after_bend_left(diameter, along, bend, degrees);
        bend_left(bend, degrees);
        long_point_here_right(degrees);
        long_point_of_right(end, degrees);
        throat_here_right(degrees);
        throat_of_right(end, degrees);
        hole_from_end_right(diameter, along, end, degrees);
        hole_after_bend_right(diameter, along, bend, degrees);
        bend_right(bend, degrees);
        uneven_left(end, degrees, by);
        uneven_right(end, degrees, by);
        nothing_left(by);
        nothing_right(by);
    }
}
