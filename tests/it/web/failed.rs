//! The page of a request that failed, as whoever is signed in sees it.

use super::builder;
use crate::browser::Browser;
use crate::fixtures::{recall, two_kits};
use serde_json::json;

#[test]
fn a_page_that_failed_has_the_head_of_whoever_is_signed_in() {
    let kits = two_kits();
    let browser = builder(&kits, "K-1");
    for (path, status) in [("/kits/K-2", 404), ("/nowhere", 404), ("/designs", 404), ("/kits/K-1/packs/9", 404)] {
        let page = browser.get(path).expect(status).says("Sign out").says("My kit").says("href=\"/kits/K-1\"");
        let page = page.says("Back to my kit").says_nothing_of("/sign-in\"").says_nothing_of("/v1/");
        assert_eq!(page.answer.header("cache-control"), "no-store", "{path}");
        Browser::at(&kits.server).get("/nowhere").expect(404).says("Sign in").says_nothing_of("Sign out");
    }
    let post = |fields: &[(&str, &str)], kind: &str| {
        let headers = [
            ("cookie", browser.cookie()),
            ("accept", "text/html"),
            ("sec-fetch-site", "same-origin"),
            ("content-type", kind),
        ];
        let body = fields.iter().map(|(name, value)| format!("{name}={value}")).collect::<String>();
        kits.server.send("POST", "/kits/K-1/measurements", "", &headers, Some(&body))
    };
    let large = "x".repeat(9 << 20);
    for (answer, status) in
        [(post(&[], "text/plain"), 415), (post(&[("a", &large)], "application/x-www-form-urlencoded"), 413)]
    {
        assert_eq!(answer.status, status);
        let text = String::from_utf8_lossy(&answer.body);
        assert!(text.contains("Sign out") && text.contains("My kit"), "{status}: {text}");
    }
    recall(&kits, "A");
    let page = browser.get("/kits/K-1/packs/1").expect(409).says("Sign out").says("Read the stop sheet");
    page.says_nothing_of("/v1/");
    let desk = Browser::with_token(&kits.server, &kits.support);
    desk.get("/kits/NO-1").expect(404).says("Sign out").says_nothing_of("/v1/").says_nothing_of("My kit");
}

#[test]
fn the_form_for_a_pack_opens_only_where_one_can_be_drawn() {
    let kits = two_kits();
    let mut browser = builder(&kits, "K-1");
    let desk = Browser::with_token(&kits.server, &kits.support);
    browser.get("/kits/K-1/packs").expect(200).says("cross that one out");
    recall(&kits, "A");
    browser.get("/kits/K-1/packs").expect(409).says("Read the stop sheet").says_nothing_of("cross that one out");
    let sheet = "/kits/K-1/stop-sheets/A";
    browser.fill_in(sheet, sheet, &[]).expect(303);
    for who in [&browser, &desk] {
        who.get("/kits/K-1/packs").expect(409).says("recalled").says_nothing_of("cross that one out");
    }
    let hold = json!({"reason": "Not paid.", "ask": "the office"});
    kits.server.post("/v1/kits/K-2/holds", &kits.publisher, &hold).expect(201);
    builder(&kits, "K-2").get("/kits/K-2/packs").expect(409).says("the office");
}

#[test]
fn a_recall_is_said_in_one_sentence() {
    let kits = two_kits();
    recall(&kits, "A");
    let said = kits.server.get("/v1/kits/K-1", &kits.first).expect(200).json();
    let words = said["standing"]["words"].as_str().unwrap();
    let before = "before you cut, weld or use anything.";
    assert!(words.starts_with("Recalled: stop. Revision A was recalled by the supplier.") && words.ends_with(before));
    builder(&kits, "K-1").get("/kits/K-1").expect(200).says(words).says_nothing_of("before you do anything else");
}

#[test]
fn a_pack_that_is_out_of_date_is_not_called_the_one_to_build_from() {
    let kit = crate::kits::standing::one_kit();
    let page = Browser::with_token(&kit.server, &kit.builder);
    page.get("/kits/K-1").says("Pack to build from");
    kit.measure(905.0);
    page.get("/kits/K-1").says("Latest pack").says(", out of date").says_nothing_of("Pack to build from");
}
