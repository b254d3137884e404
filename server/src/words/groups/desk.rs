//! What the supplier's people can do on the page of a kit.

matchmark_core::phrases! {
    /// What the supplier's people can do on the page of a kit.
    Desk {
        heading();
        issue_link();
        card_button();
        look_up_link();
        lift_link();
        hold_link();
        card_about();
    }
}
