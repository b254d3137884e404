//! How much a change matters: in a tag, and to choose from.

matchmark_core::phrases! {
    /// How much a change matters: in a tag, and to choose from.
    ChangeClasses {
        mandatory();
        recommended();
        optional();
        choose();
        choose_mandatory();
        choose_recommended();
        choose_optional();
    }
}
