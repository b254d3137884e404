//! The pages for people, through their forms.

mod access;
mod builders;
mod caches;
mod failed;
mod forms;
mod reading;
mod sign_in;
mod supplier;
mod support;
mod sure;

use crate::browser::Browser;
use crate::fixtures::TwoKits;

/// A new access code of a kit.
fn card(kits: &TwoKits, serial: &str) -> String {
    let path = format!("/v1/kits/{serial}/access-code");
    let card = kits.server.send("POST", &path, &kits.support, &[], None).expect(201).json();
    card["access_code"].as_str().unwrap().to_owned()
}

/// The builder of a kit, signed in with its card.
fn builder<'s>(kits: &'s TwoKits, serial: &str) -> Browser<'s> {
    let code = card(kits, serial);
    let mut browser = Browser::at(&kits.server);
    let entered = browser.send_form("/sign-in", &[("serial", serial), ("access_code", &code)]).expect(303);
    assert_eq!(entered.leads_to(), format!("/kits/{serial}"));
    browser
}
