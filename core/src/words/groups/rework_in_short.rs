//! How an old part is made into the new one, in a few sentences.

crate::phrases! {
    /// How an old part is made into the new one, in a few sentences.
    ReworkInShort {
        in_this_order();
        drill(holes);
        only_left_long();
        else_scrap();
        trim_wrap(end, most, least);
        trim_square(end, most, least);
        trim_turned_wrap(end, becomes, most, least);
        trim_turned_square(end, becomes, most, least);
        trim_wrap_long(end, most, least, long);
        trim_square_long(end, most, least, long);
        trim_turned_wrap_long(end, becomes, most, least, long);
        trim_turned_square_long(end, becomes, most, least, long);
        trim_wrap_while_long(end, most, least, long);
        trim_square_while_long(end, most, least, long);
        trim_turned_wrap_while_long(end, becomes, most, least, long);
        trim_turned_square_while_long(end, becomes, most, least, long);
        set_out_from_sawn(length);
        set_out_from_old_cut(length);
        set_out_from_new_cut(length);
        set_out_from_cut(length);
        length_from_sawn(length);
        length_from_old_cut(length);
        length_from_new_cut(length);
        length_from_cut(length);
    }
}
