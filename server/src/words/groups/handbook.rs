//! What stands round the pages of the handbook.

matchmark_core::phrases! {
    /// What stands round the pages of the handbook.
    Handbook {
        contents();
        contents_heading();
        about_problem();
    }
}
