//! Calls whose answer is shown once: sent again with the same key, they show it again and make nothing more.

use crate::fixtures::{TwoKits, another, two_kits};
use crate::server::{Answer, Server};
use serde_json::{Value, json};

fn again(server: &Server, path: &str, token: &str, key: &str, body: &Value) -> Answer {
    server.send("POST", path, token, &[("idempotency-key", key)], Some(&body.to_string()))
}

fn tokens(server: &Server, token: &str) -> usize {
    server.get("/v1/tokens?page_size=200", token).expect(200).json()["tokens"].as_array().unwrap().len()
}

#[test]
fn a_lost_answer_with_a_token_is_had_again() {
    let TwoKits { server, publisher, support, .. } = two_kits();
    let made = json!({"role": "support", "name": "Bench tablet"});
    let before = tokens(&server, &publisher);
    let first = again(&server, "/v1/tokens", &publisher, "tablet", &made).expect(201).json();
    let second = again(&server, "/v1/tokens", &publisher, "tablet", &made).expect(201);
    assert_eq!(second.header("cache-control"), "no-store");
    assert_eq!(second.json(), first);
    assert_eq!(tokens(&server, &publisher), before + 1);
    server.get("/v1/kits", first["token"].as_str().unwrap()).expect(200);
    // Another key, another caller: another token.
    let other = again(&server, "/v1/tokens", &publisher, "another", &made).expect(201).json();
    assert_ne!(other["token"], first["token"]);
    let colleague = another(&server);
    let theirs = again(&server, "/v1/tokens", &colleague, "tablet", &made).expect(201).json();
    assert_ne!(theirs["token"], first["token"]);
    let changed = json!({"role": "publisher"});
    again(&server, "/v1/tokens", &publisher, "tablet", &changed).problem(422, "idempotency-key-reused");

    let first = again(&server, "/v1/kits/K-1/tokens", &support, "for-k1", &json!({})).expect(201).json();
    assert_eq!(again(&server, "/v1/kits/K-1/tokens", &support, "for-k1", &json!({})).expect(201).json(), first);
    server.get("/v1/kits/K-1", first["token"].as_str().unwrap()).expect(200);

    // Rotated by someone else, so that the caller can ask again.
    let rotation = format!("/v1/tokens/{}/rotation", first["id"].as_str().unwrap());
    let next = again(&server, &rotation, &publisher, "rotate", &json!({})).expect(201).json();
    assert_eq!(again(&server, &rotation, &publisher, "rotate", &json!({})).expect(201).json(), next);
    server.get("/v1/kits/K-1", first["token"].as_str().unwrap()).problem(401, "token-needed");
    server.get("/v1/kits/K-1", next["token"].as_str().unwrap()).expect(200);

    // What has ended is not shown as if it were good.
    let end = format!("/v1/tokens/{}", next["id"].as_str().unwrap());
    server.send("DELETE", &end, &publisher, &[], None).expect(204);
    again(&server, &rotation, &publisher, "rotate", &json!({})).problem(409, "not-shown-again");
}

#[test]
fn a_lost_answer_with_an_access_card_is_had_again() {
    let TwoKits { server, support, .. } = two_kits();
    let path = "/v1/kits/K-1/access-code";
    let first = again(&server, path, &support, "card", &json!({})).expect(201).json();
    assert_eq!(again(&server, path, &support, "card", &json!({})).expect(201).json(), first);
    let card = json!({"serial": "K-1", "access_code": first["access_code"]});
    server.post("/v1/sign-in", "", &card).expect(201);
    let newer = again(&server, path, &support, "another card", &json!({})).expect(201).json();
    assert_ne!(newer["access_code"], first["access_code"]);
    let problem = again(&server, path, &support, "card", &json!({})).problem(409, "not-shown-again");
    assert!(problem["detail"].as_str().unwrap().contains("card of kit K-1"), "{problem}");
}

#[test]
fn a_design_is_created_once() {
    let TwoKits { server, publisher, .. } = two_kits();
    let design = json!({"id": "second", "name": "Second"});
    let first = again(&server, "/v1/designs", &publisher, "d", &design).expect(201);
    let second = again(&server, "/v1/designs", &publisher, "d", &design).expect(201);
    assert_eq!(second.header("location"), "/v1/designs/second");
    assert_eq!(second.json(), first.json());
    again(&server, "/v1/designs", &publisher, "e", &design).problem(409, "design-exists");
}

#[tokio::test]
async fn nothing_recorded_tells_what_was_shown() {
    let TwoKits { server, publisher, .. } = two_kits();
    let made = again(&server, "/v1/kits/K-1/tokens", &publisher, "t", &json!({})).expect(201).json();
    let card = again(&server, "/v1/kits/K-1/access-code", &publisher, "c", &json!({})).expect(201).json();
    let mut records = server.data.open().await;
    let kept = records.lines("SELECT response FROM idempotency").await.join("\n");
    assert!(kept.contains("nonce"), "{kept}");
    for shown in [&made["token"], &card["access_code"]] {
        assert!(!kept.contains(shown.as_str().unwrap()), "{kept}");
    }
}

/// Every call that answers 201 takes a key, but these, which say what to send instead.
#[test]
fn every_call_that_creates_takes_a_key() {
    const OTHERWISE: [&str; 2] = [
        // A session of its own each time, by a card.
        "/v1/sign-in",
        // If-Match names the save that it goes on from.
        "/v1/designs/{design}/draft/restoration",
    ];
    let server = Server::start();
    let described = server.get("/openapi.json", "").expect(200).json();
    let mut creating = 0;
    for (path, item) in described["paths"].as_object().unwrap() {
        let Some(post) = item.get("post").filter(|post| post["responses"].get("201").is_some()) else { continue };
        creating += 1;
        let parameters = post["parameters"].as_array().cloned().unwrap_or_default();
        let takes = parameters.iter().any(|parameter| parameter["name"] == "Idempotency-Key");
        assert!(takes || OTHERWISE.contains(&path.as_str()), "POST {path} takes no Idempotency-Key");
    }
    assert!(creating > 12, "{creating}");
}
