//! Signing in and out, and what a session opens.

use super::{builder, card};
use crate::browser::Browser;
use crate::fixtures::two_kits;
use serde_json::json;

#[test]
fn a_builder_signs_in_with_the_card_reads_downloads_and_signs_out() {
    let kits = two_kits();
    let mut browser = Browser::at(&kits.server);
    let away = browser.get("/kits/K-1").expect(303);
    assert_eq!(away.leads_to(), "/sign-in?then=/kits/K-1");
    let code = card(&kits, "K-1");
    // What was typed stays, but for the code of another kit nobody gets in.
    let wrong = browser.send_form("/sign-in", &[("serial", "K-2"), ("access_code", &code)]).expect(422);
    wrong.says("value=\"K-2\"").says("do not match");
    let entered =
        browser.send_form("/sign-in", &[("serial", "k-1"), ("access_code", &code.to_lowercase())]).expect(303);
    let set = entered.answer.header("set-cookie").to_owned();
    for wanted in ["HttpOnly", "SameSite=Lax", "Path=/", "Max-Age="] {
        assert!(set.contains(wanted), "{set}");
    }

    let page = browser.get(entered.leads_to()).expect(200);
    assert_eq!(page.answer.header("cache-control"), "no-store");
    let page = page.says("K-1").says("The design has a later revision, B").says("Download pack 1 (PDF, ");
    assert!(page.text.len() < 50_000);
    let file = browser.get("/kits/K-1/packs/1").expect(200);
    assert_eq!(file.answer.header("content-type"), "application/pdf");
    assert_eq!(kits.server.get("/v1/kits/K-1/packs/1", &kits.first).json()["downloads"], 1);

    for foreign in
        ["/kits/K-2", "/kits/K-2/packs/1", "/kits/K-404", "/kits", "/designs", "/support", "/notices", "/jobs"]
    {
        let page = browser.get(foreign).expect(404).says("Not found");
        assert!(page.answer.header("content-type").starts_with("text/html"));
    }
    let before = browser.cookie().to_owned();
    browser.fill_in("/kits/K-1", "/sign-out", &[]).expect(303);
    browser.get("/kits/K-1").expect(303);
    kits.server.send("GET", "/kits/K-1", "", &[("cookie", &before)], None).expect(303);
}

#[test]
fn a_session_ends_with_its_token() {
    let kits = two_kits();
    // A new card ends what was signed in with the one before.
    let signed_in = builder(&kits, "K-1");
    signed_in.get("/kits/K-1").expect(200);
    kits.server.send("POST", "/v1/kits/K-1/access-code", &kits.publisher, &[], None).expect(201);
    signed_in.get("/kits/K-1").expect(303);
    let browser = Browser::with_token(&kits.server, &kits.support);
    browser.get("/kits").expect(200);
    // A session opens pages alone, a token the API alone.
    kits.server.send("GET", "/v1/kits", "", &[("cookie", browser.cookie())], None).problem(401, "token-needed");
    kits.server.get("/kits", &kits.support).expect(303);
    let secret = browser.cookie().split_once('=').unwrap().1;
    kits.server.get("/v1/kits", secret).problem(401, "token-needed");
    let tokens = kits.server.get("/v1/tokens", &kits.publisher).json();
    let support = tokens["tokens"].as_array().unwrap().iter().find(|token| token["role"] == "support").unwrap();
    let path = format!("/v1/tokens/{}", support["id"].as_str().unwrap());
    kits.server.send("DELETE", &path, &kits.publisher, &[], None).expect(204);
    browser.get("/kits").expect(303);
}

#[test]
fn the_card_is_shown_once_and_opens_the_kit() {
    let kits = two_kits();
    let mut desk = Browser::with_token(&kits.server, &kits.support);
    let card = desk.fill_in("/kits/K-1", "/kits/K-1/card", &[]).expect(200);
    assert_eq!(card.answer.header("cache-control"), "no-store");
    let code = card.text.split("<span class=\"code\">").nth(2).unwrap().split('<').next().unwrap().to_owned();
    let mut browser = Browser::at(&kits.server);
    browser.send_form("/sign-in", &[("serial", "K-1"), ("access_code", &code)]).expect(303);
}

#[test]
fn a_token_that_only_reads_opens_pages_and_sends_no_forms() {
    let kits = two_kits();
    let new = json!({"role": "support", "read_only": true});
    let reader = kits.server.post("/v1/tokens", &kits.publisher, &new).expect(201).json();
    let mut desk = Browser::with_token(&kits.server, reader["token"].as_str().unwrap());
    desk.get("/kits/K-1").expect(200);
    desk.fill_in("/kits/K-1", "/kits/K-1/card", &[]).expect(403).says("This token is read-only");
    desk.fill_in("/kits/K-1", "/sign-out", &[]).expect(303);
    desk.get("/kits/K-1").expect(303);
}

#[test]
fn whoever_signs_in_goes_to_a_page_of_ours_and_nowhere_else() {
    let kits = two_kits();
    for (then, wanted) in [
        ("/support?q=K-1", "/support?q=K-1"),
        ("/%09/host", "/support"),
        ("/\t/host", "/support"),
        ("/%01", "/support"),
        ("/\u{1}", "/support"),
        ("//host", "/support"),
        ("/.//host", "/support"),
        ("/\\host", "/support"),
        ("https://host", "/support"),
        ("/k\u{e9}", "/support"),
    ] {
        let mut browser = Browser::at(&kits.server);
        let entered = browser.send_form("/sign-in/token", &[("token", &kits.support), ("then", then)]);
        assert_eq!(entered.expect(303).leads_to(), wanted, "{then:?}");
    }
    let mut browser = Browser::at(&kits.server);
    let code = card(&kits, "K-1");
    for then in ["/kits/K-10", "/kits", "/kits/K-2"] {
        let entered = browser.send_form("/sign-in", &[("serial", "K-1"), ("access_code", &code), ("then", then)]);
        assert_eq!(entered.expect(303).leads_to(), "/kits/K-1");
    }
    // The way back keeps what was asked for.
    let away = Browser::at(&kits.server).get("/support?q=a%26b").expect(303).leads_to().to_owned();
    assert_eq!(away, "/sign-in?then=/support%3Fq%3Da%2526b");
}

#[test]
fn a_second_sign_in_ends_the_first_session_of_the_browser() {
    let kits = two_kits();
    let mut browser = Browser::with_token(&kits.server, &kits.support);
    let elsewhere = Browser::with_token(&kits.server, &kits.support);
    let first = browser.cookie().to_owned();
    let with_first = || kits.server.send("GET", "/kits", "", &[("cookie", &first)], None).status;
    assert_eq!(with_first(), 200);
    browser.send_form("/sign-in/token", &[("token", "wrong")]).expect(422);
    assert_eq!(with_first(), 200, "who does not get in stays who they were");
    browser.send_form("/sign-in/token", &[("token", &kits.publisher)]).expect(303);
    assert_eq!(with_first(), 303);
    browser.get("/kits").expect(200);
    elsewhere.get("/kits").expect(200);
}
