//! Why a notice or recall was not delivered.

matchmark_core::phrases! {
    /// Why a notice or recall was not delivered.
    Sending {
        no_mail_server();
        no_webhook();
        customer_erased();
        bad_address();
        not_written();
        mail_answered(code);
        mail_away();
        not_signed();
        webhook_answered(status);
        webhook_away(why);
    }
}
