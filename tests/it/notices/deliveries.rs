//! Notices and recalls on their way to the holders of kits: once each, signed, tried again, given up in the open.

use crate::fixtures::{
    TwoKits, builder_token, create_design, create_kit, frame, publish_document, recall, support_token,
};
use crate::place::{Place, on_postgres};
use crate::server::Server;
use crate::sinks::{NEVER, mail, webhook};
use data_encoding::{BASE64, HEXLOWER};
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use std::collections::BTreeSet;
use std::io::Write;
use std::sync::Arc;
use std::time::{Duration, Instant};
use tempfile::NamedTempFile;

const SECRET: &str = "a secret of more than sixteen";

fn secret_file() -> NamedTempFile {
    let mut file = NamedTempFile::new().unwrap();
    writeln!(file, "{SECRET}").unwrap();
    file
}

/// Revisions A and B; K-1 and K-2 on A.
fn kits_at(server: Server) -> TwoKits {
    let publisher = server.publisher();
    create_design(&server, &publisher, "frame");
    publish_document(&server, &publisher, "frame", &frame(900));
    for serial in ["K-1", "K-2"] {
        create_kit(&server, &publisher, serial, "frame", "A");
    }
    publish_document(&server, &publisher, "frame", &frame(904));
    TwoKits {
        support: support_token(&server, &publisher),
        first: builder_token(&server, &publisher, "K-1"),
        second: builder_token(&server, &publisher, "K-2"),
        server,
        publisher,
    }
}

fn raise(kits: &TwoKits) {
    let notice = json!({"from": "A", "to": "B", "class": "mandatory", "text": "Trim both posts."});
    kits.server.post("/v1/designs/frame/notices", &kits.publisher, &notice).expect(201);
}

/// The deliveries once this holds of them.
#[track_caller]
fn when(kits: &TwoKits, holds: impl Fn(&[Value]) -> bool) -> Vec<Value> {
    let begun = Instant::now();
    loop {
        let listed = kits.server.get("/v1/deliveries", &kits.support).expect(200).json();
        let deliveries = listed["deliveries"].as_array().unwrap();
        if holds(deliveries) {
            return deliveries.clone();
        }
        assert!(begun.elapsed() < Duration::from_secs(30), "it did not come to this: {listed}");
        std::thread::sleep(Duration::from_millis(20));
    }
}

fn all_are(state: &'static str) -> impl Fn(&[Value]) -> bool {
    move |deliveries| !deliveries.is_empty() && deliveries.iter().all(|one| one["state"] == state)
}

/// HMAC-SHA256 by its definition (RFC 2104), for a key no longer than a block.
fn hmac(key: &[u8], message: &[u8]) -> Vec<u8> {
    let pad = |with: u8| -> Vec<u8> { (0..64).map(|index| key.get(index).copied().unwrap_or(0) ^ with).collect() };
    let inner = Sha256::digest([pad(0x36), message.to_vec()].concat());
    Sha256::digest([pad(0x5c), inner.to_vec()].concat()).to_vec()
}

#[test]
fn a_notice_is_posted_once_for_each_kit_and_signed() {
    let (sink, secret) = (webhook(&[204]), secret_file());
    let address = format!("http://{}/told", sink.address);
    let file = secret.path().to_str().unwrap();
    let kits = kits_at(Server::start_with(&["--webhook", &address, "--webhook-secret-file", file]));
    raise(&kits);
    when(&kits, all_are("sent"));
    let came = sink.when(2);
    let mut serials = Vec::new();
    for posted in &came {
        let id = posted.header("webhook-id");
        let signed = format!("{id}.{}.{}", posted.header("webhook-timestamp"), posted.body);
        let wanted = format!("v1,{}", BASE64.encode(&hmac(SECRET.as_bytes(), signed.as_bytes())));
        assert_eq!(posted.header("webhook-signature"), wanted);
        let body: Value = serde_json::from_str(&posted.body).unwrap();
        assert_eq!(
            (&body["type"], &body["revision"], &body["class"]),
            (&json!("notice"), &json!("A"), &json!("mandatory"))
        );
        assert_eq!(body["text"], "Trim both posts.");
        assert!(body["link"].as_str().unwrap().ends_with(&format!("/kits/{}", body["kit"].as_str().unwrap())));
        assert!(!posted.body.contains('@') && !posted.body.contains("A. Builder"), "{}", posted.body);
        serials.push(body["kit"].as_str().unwrap().to_owned());
    }
    serials.sort();
    assert_eq!(serials, ["K-1", "K-2"]);
    // RFC 4231, test case 2.
    let vector = hmac(b"Jefe", b"what do ya want for nothing?");
    assert_eq!(HEXLOWER.encode(&vector), "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843");
}

#[tokio::test]
async fn what_does_not_arrive_is_tried_again_and_given_up_in_the_open() {
    let (sink, secret) = (webhook(&[500]), secret_file());
    let address = format!("http://{}/", sink.address);
    let file = secret.path().to_str().unwrap();
    let kits = kits_at(Server::start_with(&["--webhook", &address, "--webhook-secret-file", file]));
    raise(&kits);
    let tried = when(&kits, |all| all.iter().all(|one| one["attempts"] == 1 && one["error"].is_string()));
    assert_eq!(tried[0]["error"], "the receiver answered 500");
    assert_eq!(tried[0]["state"], "waiting");
    // The ninth attempt is the last. Time is put forward in the records.
    let mut records = kits.server.data.open().await;
    records.execute("UPDATE deliveries SET attempts = 8, due_at = '2020-01-01T00:00:00.000Z'").await.unwrap();
    let dead = when(&kits, all_are("dead"));
    let path = format!("/v1/deliveries/{}/retry", dead[0]["id"].as_str().unwrap());
    let listed = kits.server.get("/v1/deliveries?state=dead", &kits.support).json();
    assert_eq!(listed["deliveries"].as_array().unwrap().len(), 2);
    sink.answer(200);
    kits.server.send("POST", &path, &kits.support, &[], None).expect(200);
    when(&kits, |all| all[0]["state"] == "sent" && all[1]["state"] == "dead");
    kits.server.send("POST", &path, &kits.support, &[], None).problem(409, "sent-already");
    kits.server.send("POST", "/v1/deliveries/none/retry", &kits.support, &[], None).problem(404, "unknown-delivery");
}

#[test]
fn a_recall_is_mailed_with_what_to_do_and_no_more_of_anybody_than_the_address() {
    let sink = mail(&[250]);
    let server = format!("smtp://{}", sink.address);
    let from = "Test Frames <kits@frames.example>";
    let kits =
        kits_at(Server::start_with(&["--smtp", &server, "--mail-from", from, "--contact", "Ring 01632 960 017"]));
    recall(&kits, "A");
    when(&kits, all_are("sent"));
    for letter in sink.when(2) {
        assert!(letter.contains("RCPT TO:<builder@example.com>"), "{letter}");
        for wanted in [
            "Product safety recall",
            "The posts can break",
            "Stop building",
            "/kits/K-",
            "revision A",
            "From: ",
            "Ring 01632 960 017",
        ] {
            assert!(letter.contains(wanted), "no {wanted} in {letter}");
        }
        assert!(!letter.contains("A. Builder"), "{letter}");
    }
}

#[test]
fn mail_that_is_refused_for_good_is_not_tried_again() {
    let sink = mail(&[550]);
    let server = format!("smtp://{}", sink.address);
    let kits = kits_at(Server::start_with(&["--smtp", &server, "--mail-from", "kits@frames.example"]));
    raise(&kits);
    let dead = when(&kits, all_are("dead"));
    assert_eq!((&dead[0]["attempts"], dead[0]["error"].as_str()), (&json!(1), Some("the mail server answered 550")));
}

#[test]
fn without_a_channel_nothing_is_written_down() {
    let kits = kits_at(Server::start());
    raise(&kits);
    recall(&kits, "A");
    let listed = kits.server.get("/v1/deliveries", &kits.support).expect(200).json();
    assert_eq!(listed["deliveries"], json!([]));
}

#[test]
fn two_processes_on_one_database_post_each_message_once() {
    if !on_postgres() {
        return;
    }
    let (sink, secret) = (webhook(&[204]), secret_file());
    let address = format!("http://{}/", sink.address);
    let file = secret.path().to_str().unwrap();
    let options = ["--webhook", &address, "--webhook-secret-file", file];
    let kits = kits_at(Server::start_with(&options));
    for number in 3..=20 {
        create_kit(&kits.server, &kits.publisher, &format!("K-{number}"), "frame", "A");
    }
    let place: Arc<Place> = Arc::clone(&kits.server.data);
    let _second = Server::start_in_with(place, &options);
    raise(&kits);
    when(&kits, all_are("sent"));
    let mut ids: Vec<String> = sink.when(20).iter().map(|posted| posted.header("webhook-id").to_owned()).collect();
    assert_eq!(ids.len(), 20);
    ids.sort();
    ids.dedup();
    assert_eq!(ids.len(), 20);
}

/// A server that was killed while it waited to hear that its messages were taken, started again when the next attempt is due.
async fn started_again(kits: TwoKits, options: &[&str]) -> TwoKits {
    let place = kits.server.kill();
    place.open().await.execute("UPDATE deliveries SET due_at = '2020-01-01T00:00:00.000Z'").await.unwrap();
    TwoKits { server: Server::start_in_with(place, options), ..kits }
}

#[tokio::test]
async fn what_is_sent_again_after_a_kill_is_known_by_its_id() {
    let (sink, secret) = (webhook(&[NEVER]), secret_file());
    let address = format!("http://{}/", sink.address);
    let options = ["--webhook", &*address, "--webhook-secret-file", secret.path().to_str().unwrap()];
    let kits = kits_at(Server::start_with(&options));
    raise(&kits);
    let before = sink.when(1);
    sink.answer(204);
    let kits = started_again(kits, &options).await;
    when(&kits, all_are("sent"));
    let posted = sink.when(3);
    let ids: Vec<&str> = posted.iter().map(|one| one.header("webhook-id")).collect();
    let first = before[0].header("webhook-id");
    assert_eq!(ids.iter().filter(|id| **id == first).count(), 2, "{ids:?}");
    assert_eq!(ids.iter().collect::<BTreeSet<_>>().len(), 2, "two kits, two messages: {ids:?}");
    // All that tells the two apart is when they were sent, and where the service is after its new start.
    let again = posted[1..].iter().find(|one| one.header("webhook-id") == first).unwrap();
    let [again, before] = [again, &before[0]].map(|one| {
        let mut body: Value = serde_json::from_str(&one.body).unwrap();
        body.as_object_mut().unwrap().remove("link").unwrap();
        body
    });
    assert_eq!(again, before);
    assert_eq!(again["id"], first);
}

#[tokio::test]
async fn a_letter_that_is_sent_again_after_a_kill_is_known_by_its_id() {
    let sink = mail(&[NEVER]);
    let server = format!("smtp://{}", sink.address);
    let options = ["--smtp", &*server, "--mail-from", "kits@frames.example"];
    let kits = kits_at(Server::start_with(&options));
    recall(&kits, "A");
    let id = |letter: &str| {
        let line = letter.lines().find_map(|line| line.strip_prefix("Message-ID: "));
        line.unwrap_or_else(|| panic!("no id in {letter}")).to_owned()
    };
    let before = id(&sink.when(1)[0]);
    assert!(before.starts_with("<recall.frame.A.") && before.ends_with("@frames.example>"), "{before}");
    sink.answer(250);
    let kits = started_again(kits, &options).await;
    when(&kits, all_are("sent"));
    let ids: Vec<String> = sink.when(3).iter().map(|letter| id(letter)).collect();
    assert_eq!(ids.iter().filter(|other| **other == before).count(), 2, "{ids:?}");
    assert_eq!(ids.iter().collect::<BTreeSet<_>>().len(), 2, "{ids:?}");
}

#[test]
fn settings_that_will_not_do_stop_the_start() {
    let place = Place::new();
    let short = NamedTempFile::new().unwrap();
    let file = short.path().to_str().unwrap();
    for (options, told) in [
        (vec!["--webhook", "https://told.example/", "--webhook-secret-file", file], "16 characters"),
        (vec!["--webhook", "https://told.example/"], "webhook-secret"),
        (vec!["--smtp", "smtp://localhost", "--mail-from", "nobody"], "not a mail address"),
        (vec!["--smtp", "smtp://localhost"], "mail-from"),
    ] {
        let run = std::process::Command::new(crate::server::binary())
            .arg("serve")
            .args(place.options())
            .args(["--listen", "127.0.0.1:0"])
            .args(&options)
            .output()
            .unwrap();
        assert!(!run.status.success());
        let said = String::from_utf8(run.stderr).unwrap();
        assert!(said.contains(told), "{options:?}: {said}");
    }
}
