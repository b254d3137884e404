//! Bend sheets.

crate::phrases! {
    /// Bend sheets.
    BendSheet {
        title(part);
        head_bend();
        head_feed(unit);
        head_rotate();
        head_inside();
        head_angle();
        head_set();
        head_radius(unit);
        head_arc(unit);
        head_start(unit);
        head_end(unit);
        caption_notice();
        caption_section();
        caption_blank();
        blank(length);
        caption_developed();
        developed(length);
        caption_left_long();
        nothing_long();
        caption_springback();
        springback(angle);
        springback_unknown();
        caption_plane();
        one_plane();
        several_planes();
        caption_index_line();
        index_line(clock);
        caption_check_bent();
        caption_check_standing();
        check(spread, rise);
        set_by_trial();
        last_straight(length);
        check_before_fitting();
        caption_made();
        made(values);
        value(gauge, measured, nominal);
        value_told(gauge, measured, nominal, day);
        caption_to_do();
        to_do();
        marks_on_tube();
        of_other_revision();
        view_scale(reduction);
        view_spread(length);
        view_rise(length);
    }
}
