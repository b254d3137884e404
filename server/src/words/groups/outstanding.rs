//! Notices that builders have not done yet.

matchmark_core::phrases! {
    /// Notices that builders have not done yet.
    Outstanding {
        heading();
        heading_one(number, design);
        none();
        caption();
        head_raised();
        head_how_far();
        notice(number, design, from, to);
        open();
        seen();
        done();
    }
}
