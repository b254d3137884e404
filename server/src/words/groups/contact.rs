//! Whom to ask, as it is shown and as it is changed.

matchmark_core::phrases! {
    /// Whom to ask, as it is shown and as it is changed.
    Contact {
        ask_heading();
        heading();
        since(at);
        nobody_yet();
        where_it_stands();
        text_label();
        text_hint();
        change_button();
    }
}
