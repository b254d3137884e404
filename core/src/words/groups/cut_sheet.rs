//! The cut sheet.

crate::phrases! {
    /// The cut sheet.
    CutSheet {
        lengths();
        head_number();
        head_mark();
        head_part_number();
        head_section(unit);
        head_overall(unit);
        head_centreline(unit);
        head_short(unit);
        head_blank(unit);
        head_clock();
        head_bends();
        head_mass();
        no_blank();
        no_clock();
        from_end(cut);
        to_end(cut);
        cut_by(cut, angle);
        cut_to_fit(cut, angle);
        left_long(length);
        handed(opposite);
        only_moved();
        heading_frame();
        caption_mass();
        frame_mass(kg);
        caption_centre();
        centre(x, y, z, unit, about);
        caption_surface();
        surface(surface);
        caption_weld();
    } + counted {
        total(tubes, kg);
        weld(length, joints);
    }
}
