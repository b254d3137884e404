//! A message to the holder of a kit.

matchmark_core::phrases! {
    /// A message to the holder of a kit.
    Mail {
        recall_subject(serial, revision);
        recall_first();
        mandatory_subject(supplier, serial);
        mandatory_first();
        recommended_subject(supplier, serial);
        recommended_first();
        optional_subject(supplier, serial);
        optional_first();
        kit(serial, design, revision);
        sign_in();
    }
}
