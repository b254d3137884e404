//! Whether a file was issued.

matchmark_core::phrases! {
    /// Whether a file was issued.
    File {
        no_hash();
        not_issued();
        issued(pack, serial, revision, day);
    }
}
