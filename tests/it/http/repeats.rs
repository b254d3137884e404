//! Creating calls sent more than once.

use crate::fixtures::{a_recall, create_design, create_kit, frame, new_kit, publish_document, put_draft, two_kits};
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
    let two = [("idempotency-key", "one"), ("idempotency-key", "other")];
    kits.server.send("POST", "/v1/kits/K-1/packs", &kits.publisher, &two, Some("{}")).problem(400, "bad-request");
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

/// What a repeated call answers is so when it is answered.
#[test]
fn a_repeated_call_says_what_is_so_now() {
    let kits = two_kits();
    let send = |path: &str, token: &str, key: &str, body: &serde_json::Value| {
        kits.server.send("POST", path, token, &[("idempotency-key", key)], Some(&body.to_string()))
    };
    let issue = || send("/v1/kits/K-1/packs", &kits.support, "a-pack", &json!({})).expect(201).json();
    assert_eq!(issue()["state"], "current");
    let notice = json!({"from": "A", "to": "B", "class": "optional", "text": "Posts grew."});
    let raise = || send("/v1/designs/frame/notices", &kits.publisher, "a-notice", &notice).expect(201).json();
    assert_eq!((&raise()["open"], &raise()["done"]), (&json!(1), &json!(0)));
    let job = || send("/v1/designs/frame/revisions/B/pack-jobs", &kits.support, "a-job", &json!({})).expect(202).json();
    let asked = job();
    let begun = std::time::Instant::now();
    while job()["finished_at"].is_null() {
        assert!(begun.elapsed().as_secs() < 60, "it is told as it was at first");
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    assert_eq!((&job()["number"], &job()["state"]), (&asked["number"], &json!("done")));

    kits.server.post("/v1/kits/K-1/packs", &kits.support, &json!({})).expect(201);
    let now = issue();
    assert_eq!((&now["number"], &now["state"], &now["superseded_by"]), (&json!(2), &json!("superseded"), &json!(3)));
    kits.server.send("POST", "/v1/kits/K-1/notices/1/completion", &kits.first, &[], None).expect(200);
    assert_eq!((&raise()["open"], &raise()["done"]), (&json!(0), &json!(1)));

    let reason = json!({"reason": "For a test."});
    let withdraw =
        || send("/v1/designs/frame/revisions/A/withdrawal", &kits.publisher, "off", &reason).expect(200).json();
    assert_eq!(withdraw()["state"], "withdrawn");
    kits.server.post("/v1/designs/frame/revisions/A/reinstatement", &kits.publisher, &reason).expect(200);
    assert_eq!(withdraw()["state"], "superseded");
}

#[test]
fn a_published_revision_told_again_has_the_state_that_it_has_by_then() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    let body = json!({"change_note": "For a test.", "class": "recommended"}).to_string();
    let publish = |key: &str| {
        let headers = [("if-match", "*"), ("idempotency-key", key)];
        server.send("POST", "/v1/designs/frame/revisions", &token, &headers, Some(&body)).expect(201).json()
    };
    put_draft(&server, &token, "frame", &frame(900));
    assert_eq!(publish("first")["state"], "published");
    put_draft(&server, &token, "frame", &frame(904));
    let freeze = || {
        let headers = [("if-match", "*"), ("idempotency-key", "freeze")];
        server.send("POST", "/v1/designs/frame/draft/freeze", &token, &headers, None).expect(200).json()
    };
    assert_eq!(freeze()["state"], "frozen");
    publish("second");
    assert_eq!((&publish("first")["letter"], &publish("first")["state"]), (&json!("A"), &json!("superseded")));
    assert_eq!(freeze()["state"], "draft", "it was published");
}

#[test]
fn measured_values_told_again_are_those_of_now() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    let document = frame(900).replacen(
        "\"members\"",
        "\"gauges\": {\"height\": {\"what\": \"Post\", \"nominal\": 900, \"least\": 890, \"most\": 910, \"moves\": {\"b.L\": [0, 0, 1]}}}, \"members\"",
        1,
    );
    publish_document(&server, &token, "frame", &document);
    create_kit(&server, &token, "K-1", "frame", "A");
    let measure = |key: &str, value: u32| {
        let body = json!({"height": value}).to_string();
        let headers = [("idempotency-key", key)];
        let answer = server.send("POST", "/v1/kits/K-1/measurements", &token, &headers, Some(&body));
        answer.expect(200).json()["measured"]["height"].clone()
    };
    assert_eq!(measure("one", 904), 904.0);
    assert_eq!(measure("two", 906), 906.0);
    assert_eq!(measure("one", 904), 906.0, "what was measured since counts");
    let history = server.get("/v1/kits/K-1/measurements/history", &token).json();
    assert_eq!(history["measurements"].as_array().unwrap().len(), 2);
}
