//! What stands beside a wrap.

crate::phrases! {
    /// What stands beside a wrap.
    Wrap {
        what(cut, size);
        what_with_number(cut, size, number);
        handed(opposite, number);
        handed_in_short(opposite, number);
        clock(clock);
        clock_in_short(clock);
        this_long_point(place);
        other_long_point(place);
        index_line(facing);
        index_line_in_short(facing);
        round_tube(diameter, wall);
        rectangular_tube(size, radius);
        circumference(circumference, printed, paper);
        circumference_in_short(circumference, printed);
        throat(length);
        throat_at(length, clock);
        hole(hole, diameter, height);
        misses(from, to, by);
        set_out(distance, datum);
        set_out_or_sawn_end(distance, datum);
        overall(overall);
        overall_to_trim_line(overall);
        overall_to_outer_line(overall);
        overall_to_trim_line_in_short(overall);
        overall_to_outer_line_in_short(overall);
        reach_to_trim_line(reach);
        reach_to_outer_line(reach);
        reach_to_trim_line_in_short(reach);
        reach_to_outer_line_in_short(reach);
    }
}
