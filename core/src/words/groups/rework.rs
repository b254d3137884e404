//! How an old part is made into the new one.

crate::phrases! {
    /// How an old part is made into the new one.
    Rework {
        both_ends();
        drill(holes, part);
        all_round(length);
        round(least, most);
        is_old_end(end);
        more(length);
        by_wrap(end, how_much, part);
        square(end, how_much);
        long_by_wrap(end, long, how_much, part);
        long_by_wrap_of_old(end, old_end, long, how_much, part);
        long_square(end, long, how_much);
        long_square_of_old(end, old_end, long, how_much);
        else_scrap();
        set_out_from_old(length, end);
        set_out_from_cut(length, end);
        set_out_first_from_sawn(length, end);
        set_out_first_from_old(length, end);
        set_out_then(length, end);
        length_from_old(length, end);
        length_from_cut(length, end);
        length_first_from_sawn(length, end);
        length_first_from_old(length, end);
        length_then(length, end);
        more_than_printed(set_out, by, printed);
        less_than_printed(set_out, by, printed);
        if_still_long(length);
        old_long_point(clock);
    }
}
