//! Why the service takes no work, as far as strangers may know.

matchmark_core::phrases! {
    /// Why the service takes no work, as far as strangers may know.
    Readiness {
        stopping();
        other_key();
        disk_low();
        no_write();
    }
}
