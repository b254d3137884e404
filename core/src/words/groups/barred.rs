//! What a notice makes void.

crate::phrases! {
    /// What a notice makes void.
    Barred {
        this_is_changed(notice);
        these_are_changed(notice);
        one_is_changed(part, notice);
        some_are_changed(parts, notice);
        this_was_made_anew(notice);
        these_were_made_anew(notice);
        one_was_made_anew(part, notice);
        some_were_made_anew(parts, notice);
        place_is_changed(notice);
        place_was_changed(notice);
        step_is_changed(notice);
        step_was_changed(notice);
        figure_is_changed(notice);
        figure_was_changed(notice);
        check_is_changed(check, notice);
        check_was_changed(check, notice);
    }
}
