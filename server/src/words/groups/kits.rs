//! The list of kits.

matchmark_core::phrases! {
    /// The list of kits.
    Kits {
        heading();
        new_link();
        import_link();
        narrow_serial();
        narrow_choices();
        narrow_button();
        none();
        head_serial();
        head_registered();
    } + counted {
        all(count);
        some(count);
    }
}
