//! A stop sheet as plain text, and the same in a message.

matchmark_core::phrases! {
    /// A stop sheet as plain text, and the same in a message.
    StopSheets {
        heading();
        first();
        band();
        by(supplier, day);
        kit(serial, design, revision);
        hazard();
        what_to_do();
        remedies();
        contact();
    }
}
