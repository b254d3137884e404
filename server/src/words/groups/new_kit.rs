//! The form for a new kit.

matchmark_core::phrases! {
    /// The form for a new kit.
    NewKit {
        heading();
        serial();
        serial_hint();
        revision();
        revision_hint();
        choices();
        choices_hint();
        order_hint();
        customer_name();
        customer_email();
        button();
    }
}
