//! What forms have in common, and the page that asks once more.

matchmark_core::phrases! {
    /// What forms have in common, and the page that asks once more.
    Forms {
        faults_heading();
        fault_label();
        sent_before();
        sure_no_leave();
        sure_no_back();
    }
}
