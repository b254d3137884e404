//! The access card of a kit.

matchmark_core::phrases! {
    /// The access card of a kit.
    Card {
        kit(serial, revision);
        sign_in();
        keep();
        newest();
    }
}
