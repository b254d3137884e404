//! What is said of a page by its code when it cannot be told how it stands.

matchmark_core::phrases! {
    /// What is said of a page by its code when it cannot be told how it stands.
    Page {
        not_signing();
        not_readable();
        form_unknown(form);
        signature_wrong();
        key_broken();
        revoked();
        void(void);
        no_pack();
        not_of_pack(pack, serial);
        no_recall();
        no_notice();
        do_not_cut();
    }
}
