//! A builder has the pack of their own kit drawn again.

use crate::browser::Browser;
use crate::fixtures::{TwoKits, recall, two_kits, two_kits_on};
use crate::server::Server;
use serde_json::{Value, json};

const PACKS: &str = "/v1/kits/K-1/packs";

fn again(kits: &TwoKits, body: &Value) -> crate::server::Answer {
    kits.server.post(PACKS, &kits.first, body)
}

#[test]
fn a_builder_has_the_pack_of_their_own_kit_drawn_again() {
    let kits = two_kits();
    let wanted = json!({
        "paper": "letter", "units": "inch", "hands": "left", "paper_thickness": 0.2, "check_bars": {"across": 3.97, "up": 3.98}
    });
    let pack = again(&kits, &wanted).expect(201).json();
    assert_eq!((&pack["number"], &pack["state"]), (&json!(2), &json!("current")));
    for (name, value) in wanted.as_object().unwrap() {
        assert_eq!(&pack["print"][name], value, "{name}");
    }
    kits.server.get("/v1/kits/K-1/packs/2/file", &kits.first).expect(200);
    kits.server.post(PACKS, &kits.second, &json!({})).problem(404, "not-found");
    let keyless = kits.server.send("POST", PACKS, &kits.first, &[("no-idempotency-key", "")], Some("{}"));
    keyless.problem(400, "idempotency-key-missing");

    // The first pack of a revision comes from the supplier.
    let to_b = json!({"revision": "B", "reason": "For a test."});
    kits.server.post("/v1/kits/K-1/moves", &kits.publisher, &to_b).expect(201);
    let refused = again(&kits, &json!({})).problem(409, "no-pack-yet");
    assert!(refused["detail"].as_str().unwrap().contains("Ask the supplier"), "{refused}");
    kits.server.post(PACKS, &kits.support, &json!({})).expect(201);
    assert_eq!(again(&kits, &json!({})).expect(201).json()["revision"], "B");
}

#[test]
fn so_many_a_day_and_a_repeat_is_none() {
    let kits = two_kits_on(Server::start_with(&["--builder-packs", "3"]));
    let once = |key: &str| kits.server.send("POST", PACKS, &kits.first, &[("idempotency-key", key)], Some("{}"));
    for key in ["one", "two", "two", "three"] {
        once(key).expect(201);
    }
    let answer = once("four");
    let wait: u64 = answer.header("retry-after").parse().unwrap();
    assert!((86_300..=86_401).contains(&wait), "{wait}");
    let refused = answer.problem(429, "packs-used-up");
    let detail = refused["detail"].as_str().unwrap();
    assert!(detail.contains("3 packs of their kit drawn in 24 hours") && detail.contains("UTC"), "{detail}");
    assert_eq!(once("three").expect(201).json()["number"], 4, "what was done is told again");
    // The supplier's people issue as many as they like, another kit has its own, and those refused have no number.
    assert_eq!(kits.server.post(PACKS, &kits.support, &json!({})).expect(201).json()["number"], 5);
    kits.server.post("/v1/kits/K-2/packs", &kits.second, &json!({})).expect(201);
    assert_eq!(kits.server.get(PACKS, &kits.first).json()["void"], json!([]));
    let mut page = Browser::with_token(&kits.server, &kits.first);
    page.fill_in("/kits/K-1/packs", "/kits/K-1/packs", &[]).expect(422).says("in 24 hours");
}

#[test]
fn a_hold_a_recall_and_its_stop_sheet_come_before() {
    let kits = two_kits();
    let hold = json!({"reason": "Not paid.", "ask": "Test Frames."});
    kits.server.post("/v1/kits/K-1/holds", &kits.publisher, &hold).expect(201);
    let refused = again(&kits, &json!({})).problem(409, "kit-on-hold");
    assert!(!refused.to_string().contains("Not paid"), "{refused}");
    let page = Browser::with_token(&kits.server, &kits.first);
    page.get("/kits/K-1").expect(200).says_nothing_of("drawn again");
    kits.server.post("/v1/kits/K-1/holds/1/lifting", &kits.publisher, &json!({"reason": "Paid."})).expect(200);
    recall(&kits, "A");
    again(&kits, &json!({})).problem(409, "stop-sheet-first");
    page.get("/kits/K-1").expect(200).says_nothing_of("drawn again");
    kits.server.send("POST", "/v1/kits/K-1/stop-sheets/A/acknowledgement", &kits.first, &[], None).expect(200);
    again(&kits, &json!({})).problem(409, "not-in-force");
    page.get("/kits/K-1").expect(200).says_nothing_of("drawn again");
    assert_eq!(kits.server.get(PACKS, &kits.first).json()["void"], json!([]), "what is refused takes no number");
}

#[test]
fn the_page_of_a_kit_leads_to_the_form() {
    let kits = two_kits();
    let mut browser = Browser::with_token(&kits.server, &kits.first);
    browser.get("/kits/K-1").expect(200).says("href=\"/kits/K-1/packs\"").says("Have the pack drawn again");
    let form = "/kits/K-1/packs";
    let one_bar =
        [("paper", "a3"), ("units", "mm"), ("hands", "both"), ("check_bars-across", "99,2"), ("check_bars-up", "")];
    let refused = browser.fill_in(form, form, &one_bar).expect(422);
    refused.says("href=\"#check_bars-up\"").says("value=\"99,2\"").says("Measure both bars");
    let wrong = [("paper", "a3"), ("paper_thickness", "thick"), ("check_bars-across", "50"), ("check_bars-up", "50")];
    browser.fill_in(form, form, &wrong).expect(422).says("href=\"#paper_thickness\"");
    let short = [("paper", "a3"), ("check_bars-across", "50"), ("check_bars-up", "50")];
    browser.fill_in(form, form, &short).expect(422).says("href=\"#check_bars-across\"");
    let good = [
        ("paper", "a3"),
        ("units", "inch-fraction"),
        ("hands", "right"),
        ("paper_thickness", "0,15"),
        ("check_bars-across", "3.97"),
        ("check_bars-up", "3,98"),
    ];
    assert_eq!(browser.fill_in(form, form, &good).expect(303).leads_to(), "/kits/K-1");
    let pack = kits.server.get("/v1/kits/K-1/packs/2", &kits.first).expect(200).json();
    assert_eq!(pack["print"]["paper_thickness"], 0.15);
    assert_eq!(pack["print"]["check_bars"], json!({"across": 3.97, "up": 3.98}));
    assert_eq!((&pack["print"]["units"], &pack["print"]["hands"]), (&json!("inch-fraction"), &json!("right")));
    browser.get("/kits/K-1").says("Download pack 2");
}
