//! Jig sheets.

crate::phrases! {
    /// Jig sheets.
    JigSheets {
        title(part);
        head_number();
        head_place();
        head_x(unit);
        head_y(unit);
        head_z(unit);
        head_height(unit);
        caption_notice();
        caption_section();
        caption_between();
        between(length);
        caption_height();
        height(length);
        caption_crown();
        upright();
        in_front(length);
        behind(length);
        to_the_left(length);
        to_the_right(length);
        in_front_and_left(along, aside);
        in_front_and_right(along, aside);
        behind_and_left(along, aside);
        behind_and_right(along, aside);
        leans_forward(angle);
        leans_back(angle);
        set_up();
        left_long(length);
        measured_already();
        measure_while_long();
        below_base(length);
        how_places_count(about);
        from_end();
        to_end();
        crown();
        view_scale(reduction);
    }
}
