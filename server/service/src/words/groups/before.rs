//! That a pack was drawn before something of its kit was measured, or before a value was taken back.

matchmark_core::phrases! {
    /// That a pack was drawn before something of its kit was measured, or before a value was taken back.
    Before {
        measured(what, day);
        taken_back(what, day);
        and(told, next);
        drawn_without(told, pack);
        drawn_before(told, pack);
        draw_again();
        draw_left_again();
        draw_right_again();
    }
}
