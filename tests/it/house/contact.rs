//! Whom the supplier's customers are to ask: from the settings once, then as a publisher says, and printed and shown from there.

use crate::browser::Browser;
use crate::fixtures::{recall, two_kits};
use crate::place::Place;
use crate::server::{Server, run_on};
use serde_json::json;
use std::sync::Arc;

const FIRST: &str = "kits@mail.example\nTelephone 01632 960 017";

#[tokio::test(flavor = "multi_thread")]
async fn the_setting_counts_once_and_a_publisher_changes_it_from_then_on() {
    let server = Server::start_with(&["--contact", FIRST]);
    let token = server.publisher();
    let read = |server: &Server| server.get("/v1/contact", "").expect(200).json();
    assert_eq!(read(&server)["text"], FIRST);
    let long = "x".repeat(301);
    for wrong in ["", " kits@mail.example", "1\n2\n3\n4\n5", "a\u{202e}b", long.as_str()] {
        let body = json!({"text": wrong}).to_string();
        let refused = server.send("PUT", "/v1/contact", &token, &[], Some(&body));
        assert_eq!(refused.problem(422, "invalid-request")["errors"][0]["pointer"], "/text", "{wrong:?}");
    }
    let second = json!({"text": "ask@mail.example"}).to_string();
    for _ in 0..2 {
        let answer = server.send("PUT", "/v1/contact", &token, &[], Some(&second)).expect(200);
        assert_eq!(answer.json()["text"], "ask@mail.example");
    }
    let mut records = server.data.open().await;
    let acts =
        records.lines("SELECT action || ' ' || subject FROM audit WHERE subject LIKE 'contact/%' ORDER BY number");
    assert_eq!(acts.await, ["take-contact contact/1", "change-contact contact/2"], "the same again changes nothing");
    let server = Server::start_in_with(server.stop(), &["--contact", FIRST]);
    assert_eq!(read(&server)["text"], "ask@mail.example", "what a publisher said is not undone by a start");
}

#[test]
fn a_contact_that_cannot_be_printed_is_refused_at_the_start() {
    let place = Arc::new(Place::new());
    let started =
        run_on(&place, &["serve", "--listen", "127.0.0.1:0", "--metrics-listen", "off", "--contact", "a\u{202e}b"]);
    assert!(!started.status.success());
    let said = String::from_utf8_lossy(&started.stderr);
    assert!(said.contains("contact") && said.contains("U+202E"), "{said}");
}

#[test]
fn it_stands_wherever_a_holder_is_told_to_ask() {
    let kits = two_kits();
    let server = &kits.server;
    let body = json!({"text": FIRST}).to_string();
    server.send("PUT", "/v1/contact", &kits.publisher, &[], Some(&body)).expect(200);
    let pack = server.post("/v1/kits/K-1/packs", &kits.support, &json!({})).expect(201).json();
    let place = format!("/v1/kits/K-1/packs/{}/manifest", pack["number"]);
    let account = server.get(&place, &kits.first).expect(200).json();
    let cover = account["pages"][0].to_string();
    assert!(cover.contains("whom to ask") && cover.contains("01632 960 017"), "{cover}");
    let stranger = Browser::at(server);
    stranger.get("/P/AAAA").expect(200).says("Unknown").says("01632 960 017");
    stranger.get("/sign-in").expect(200).says("01632 960 017");
    let code = account["pages"][0]["code"].as_str().unwrap();
    stranger.get(&format!("/P/{code}")).expect(200).says("Current").says_nothing_of("01632 960 017");
    let desk = Browser::with_token(server, &kits.support);
    desk.get("/kits/K-1").expect(200).says("01632 960 017");

    recall(&kits, "A");
    let sheet = server.get("/v1/kits/K-1/stop-sheets/A", &kits.first).expect(200).json();
    assert_eq!(sheet["contact"], FIRST);
    let text = server.send("GET", "/v1/kits/K-1/stop-sheets/A", &kits.first, &[("accept", "text/plain")], None);
    assert!(
        String::from_utf8_lossy(&text.expect(200).body)
            .ends_with("WHOM TO ASK\nkits@mail.example\nTelephone 01632 960 017\n")
    );
    desk.get("/kits/K-1/stop-sheets/A").expect(200).says("01632 960 017");
    let mut publisher = Browser::with_token(server, &kits.publisher);
    publisher.fill_in("/contact", "/contact", &[("text", "")]).expect(422).says("Say whom to ask");
    publisher.fill_in("/contact", "/contact", &[("text", "ask@mail.example\r\n")]).expect(303);
    publisher.get("/contact").says("ask@mail.example").says_nothing_of("01632 960 017");
    desk.get("/contact").expect(200).says_nothing_of("Change the contact");
}
