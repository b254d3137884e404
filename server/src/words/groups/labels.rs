//! Heads of columns and captions above a value, where several pages have them.

matchmark_core::phrases! {
    /// Heads of columns and captions above a value, where several pages have them.
    Labels {
        kit();
        revision();
        design();
        pack();
        order();
        notice();
        state();
        class();
        kits();
        issued();
        standing();
        published();
        change();
        next_page();
    }
}
