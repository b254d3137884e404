//! Signing in.

matchmark_core::phrases! {
    /// Signing in.
    SignIn {
        heading();
        serial_label();
        serial_hint();
        code_label();
        code_hint();
        token_label();
        token_hint();
        token_wrong();
        card_heading();
        card_button();
        token_heading();
        token_button();
        lost();
        not_encrypted();
    }
}
