//! The stop sheet of a recall, and what stands in the place of the packs once it is acknowledged.

matchmark_core::phrases! {
    /// The stop sheet of a recall, and what stands in the place of the packs once it is acknowledged.
    StopSheets {
        title(serial);
        recalled();
        recalled_by(day, supplier);
        hazard_heading();
        action_heading();
        remedies_heading();
        contact_heading();
        acknowledged(when);
        acknowledge_button();
        acknowledge_button_desk();
        print_link();
        back();
        sure_heading(serial, letter);
        sure_on_behalf(serial);
        sure_opens(letter);
        sure_yes();
        remedy_state(letter, day);
        remedy_link();
        remedy_heading(supplier);
        remedy_acknowledged(when);
        no_pack(letter);
    }
}
