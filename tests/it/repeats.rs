//! Creating calls sent more than once.

use crate::fixtures::{a_recall, new_kit, two_kits};
use crate::server::Server;
use serde_json::json;
use time::format_description::well_known::Rfc3339;
use time::{Duration, OffsetDateTime};

#[test]
fn the_same_key_makes_one_pack() {
    let kits = two_kits();
    let key = [("idempotency-key", "one-pack-please")];
    let issue = |body: &str| {
        let path = "/v1/kits/K-1/packs";
        kits.server.send("POST", path, &kits.support, &key, Some(body))
    };
    let first = issue("{}").expect(201).json();
    assert_eq!(issue("{}").expect(201).json(), first);
    issue("{\"paper\":\"letter\"}").problem(422, "idempotency-key-reused");
    let packs = kits.server.get("/v1/kits/K-1/packs", &kits.support).json();
    assert_eq!(packs["packs"].as_array().unwrap().len(), 2);
}

#[test]
fn what_must_not_happen_twice_asks_for_a_key() {
    let kits = two_kits();
    let kit = new_kit("K-9", "frame", "A").to_string();
    let (publish, recall) = (json!({"change_note": "For a test."}).to_string(), a_recall().to_string());
    for (path, body) in [
        ("/v1/designs/frame/revisions", publish.as_str()),
        ("/v1/designs/frame/revisions/A/recall", recall.as_str()),
        ("/v1/kits", kit.as_str()),
        ("/v1/kits/K-1/packs", "{}"),
    ] {
        let headers = [("no-idempotency-key", ""), ("if-match", "*")];
        let answer = kits.server.send("POST", path, &kits.publisher, &headers, Some(body));
        answer.problem(400, "idempotency-key-missing");
    }
    kits.server.get("/v1/kits/K-9", &kits.publisher).problem(404, "unknown-kit");
}

#[test]
fn the_same_key_sent_at_once_makes_one_pack() {
    let kits = two_kits();
    let numbers: Vec<i64> = std::thread::scope(|scope| {
        let calls: Vec<_> = (0..6)
            .map(|_| {
                scope.spawn(|| {
                    let key = [("idempotency-key", "all-at-once")];
                    let path = "/v1/kits/K-2/packs";
                    let answer = kits.server.send("POST", path, &kits.publisher, &key, Some("{}"));
                    answer.expect(201).json()["number"].as_i64().unwrap()
                })
            })
            .collect();
        calls.into_iter().map(|call| call.join().unwrap()).collect()
    });
    assert_eq!(numbers, [2; 6]);
}

#[test]
fn packs_issued_at_once_get_numbers_without_a_gap() {
    let kits = two_kits();
    let mut numbers: Vec<i64> = std::thread::scope(|scope| {
        let calls: Vec<_> = (0..4)
            .map(|_| {
                scope.spawn(|| {
                    let body = json!({});
                    let answer = kits.server.post("/v1/kits/K-1/packs", &kits.publisher, &body);
                    answer.expect(201).json()["number"].as_i64().unwrap()
                })
            })
            .collect();
        calls.into_iter().map(|call| call.join().unwrap()).collect()
    });
    numbers.sort_unstable();
    assert_eq!(numbers, [2, 3, 4, 5]);
}

#[test]
fn the_same_key_registers_one_kit() {
    let kits = two_kits();
    let body = new_kit("K-7", "frame", "A").to_string();
    let create = |headers: &[(&str, &str)]| {
        let path = "/v1/kits";
        kits.server.send("POST", path, &kits.publisher, headers, Some(&body))
    };
    create(&[("idempotency-key", "kit-7")]).expect(201);
    create(&[("idempotency-key", "kit-7")]).expect(201);
    create(&[("idempotency-key", "kit-7-again")]).problem(409, "kit-exists");
    create(&[]).problem(409, "kit-exists");
}

#[test]
fn a_key_stands_for_one_caller_and_one_route() {
    let kits = two_kits();
    let key = [("idempotency-key", "shared")];
    let issue = |token: &str, serial: &str| {
        let path = format!("/v1/kits/{serial}/packs");
        let answer = kits.server.send("POST", &path, token, &key, Some("{}"));
        answer.expect(201).json()["number"].clone()
    };
    assert_eq!(issue(&kits.publisher, "K-1"), 2);
    assert_eq!(issue(&kits.support, "K-1"), 3);
    assert_eq!(issue(&kits.support, "K-2"), 2);
}

#[tokio::test]
async fn a_key_is_good_for_three_days() {
    let kits = two_kits();
    let issue = |server: &Server, key: &str| {
        let key = [("idempotency-key", key)];
        let answer = server.send("POST", "/v1/kits/K-1/packs", &kits.support, &key, Some("{}"));
        answer.expect(201).json()["number"].clone()
    };
    assert_eq!([issue(&kits.server, "old"), issue(&kits.server, "young")], [2, 3]);
    let mut records = kits.server.data.open().await;
    let at = |age: Duration| (OffsetDateTime::now_utc() - age).format(&Rfc3339).unwrap();
    for (key, age) in [("old", Duration::hours(73)), ("young", Duration::hours(71))] {
        let aged = format!("UPDATE idempotency SET created_at = '{}' WHERE key = '{key}'", at(age));
        records.run(aged).await.unwrap();
    }
    // What is over goes at the start, and then once a day.
    let server = Server::start_in(kits.server.stop());
    while records.lines("SELECT key FROM idempotency WHERE key = 'old'").await.len() == 1 {
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    assert_eq!([issue(&server, "young"), issue(&server, "old")], [3, 4]);
}
