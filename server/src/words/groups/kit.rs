//! The page of a kit.

matchmark_core::phrases! {
    /// The page of a kit.
    Kit {
        title(serial);
        cautions();
        build_from();
        latest();
        latest_recalled(which);
        latest_held(which);
        latest_not_yet(which);
        build_from_both(number, day);
        build_from_left(number, day);
        build_from_right(number, day);
        recalled_stop(revision);
        stop_sheet_link(revision);
        no_pack(revision);
        closed_by_hold();
        closed_by_sheet();
        notices_heading();
        notices_none();
        notices_done_heading();
        notice_done(number, when, text);
        notice_pages_link();
        measured_heading();
        measured_about();
        measured_caption();
        measured_head_what();
        measured_head_value();
        measured_head_nominal();
        measured_head_limits();
        measured_not_yet();
        measured_limits(least, most);
        measured_link();
        packs_heading();
        packs_none();
        packs_caption();
        packs_head_paper();
        packs_head_size();
        packs_number(number);
        packs_only_changes();
        packs_left();
        packs_right();
        redraw_link();
        redraw_about();
    } + counted {
        download_both(count, number, size);
        download_left(count, number, size);
        download_right(count, number, size);
    }
}
