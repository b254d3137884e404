//! Signing in with the card of a kit, and what ends a token.

use crate::fixtures::two_kits;
use crate::server::{Answer, Server};
use serde_json::{Value, json};

fn card(server: &Server, token: &str, serial: &str) -> String {
    let answer = server.send("POST", &format!("/v1/kits/{serial}/access-code"), token, &[], None).expect(201);
    assert_eq!(answer.header("cache-control"), "no-store");
    answer.json()["access_code"].as_str().unwrap().to_owned()
}

fn sign_in(server: &Server, serial: &str, code: &str) -> Answer {
    server.post("/v1/sign-in", "", &json!({"serial": serial, "access_code": code}))
}

#[test]
fn a_builder_signs_in_with_the_card_of_the_kit() {
    let kits = two_kits();
    sign_in(&kits.server, "K-1", "0000-0000-0000-0000").problem(401, "sign-in-refused");
    let code = card(&kits.server, &kits.support, "K-1");
    assert_eq!(code.len(), 19);
    let typed = code.to_lowercase().replace('-', " ");
    let signed = sign_in(&kits.server, "K-1", &typed).expect(201).json();
    assert_eq!((&signed["role"], &signed["kit"]), (&json!("builder"), &json!("K-1")));
    let token = signed["token"].as_str().unwrap();
    kits.server.get("/v1/kits/K-1", token).expect(200);
    kits.server.get("/v1/kits/K-2", token).problem(404, "not-found");
    sign_in(&kits.server, "K-2", &code).problem(401, "sign-in-refused");

    // A new card ends the old code and what was signed in with it, and nothing else.
    let new = card(&kits.server, &kits.support, "K-1");
    kits.server.get("/v1/kits/K-1", token).problem(401, "token-needed");
    kits.server.get("/v1/kits/K-1", &kits.first).expect(200);
    sign_in(&kits.server, "K-1", &code).problem(401, "sign-in-refused");
    sign_in(&kits.server, "K-1", &new).expect(201);
}

#[test]
fn a_wrong_code_and_a_kit_that_is_not_there_look_the_same() {
    let kits = two_kits();
    card(&kits.server, &kits.support, "K-1");
    let look = |serial: &str| {
        let answer = sign_in(&kits.server, serial, "wrong");
        assert!(answer.header("www-authenticate").starts_with("Bearer"));
        let mut body = answer.json();
        body.as_object_mut().unwrap().remove("request_id");
        (answer.status, body)
    };
    let wrong = look("K-1");
    assert_eq!(wrong.0, 401);
    for other in ["K-2", "K-404", "no serial"] {
        assert_eq!(look(other), wrong, "{other}");
    }
}

#[test]
fn attempts_are_limited_by_address() {
    let kits = two_kits();
    let code = card(&kits.server, &kits.support, "K-1");
    for _ in 0..10 {
        sign_in(&kits.server, "K-1", "wrong").problem(401, "sign-in-refused");
    }
    sign_in(&kits.server, "K-1", &code).expect(201);
    for number in 0..10 {
        sign_in(&kits.server, &format!("X-{number}"), "wrong").problem(401, "sign-in-refused");
    }
    let answer = sign_in(&kits.server, "K-1", &code);
    let wait: i64 = answer.header("retry-after").parse().unwrap();
    assert!((1..=901).contains(&wait), "a quarter of an hour after the first: {wait}");
    answer.problem(429, "too-many-attempts");
    // Other tokens are not concerned.
    kits.server.get("/v1/kits/K-2", &kits.second).expect(200);
}

fn tokens(server: &Server, token: &str) -> Vec<Value> {
    let mut path = "/v1/tokens?page_size=2".to_owned();
    let mut met = Vec::new();
    loop {
        let answer = server.get(&path, token).expect(200);
        met.extend(answer.json()["tokens"].as_array().unwrap().clone());
        match answer.headers.get("link") {
            Some(link) => path = link.to_str().unwrap().split(['<', '>']).nth(1).unwrap().to_owned(),
            None => return met,
        }
    }
}

#[test]
fn tokens_are_listed_without_what_they_show() {
    let kits = two_kits();
    let named = json!({"role": "support", "name": "Bench tablet", "expires_in_days": 90});
    let made = kits.server.post("/v1/tokens", &kits.publisher, &named).expect(201).json();
    let list = tokens(&kits.server, &kits.publisher);
    assert_eq!(list.len(), 5);
    let text = serde_json::to_string(&list).unwrap();
    for token in [&kits.publisher, &kits.support, &kits.first, &kits.second] {
        assert!(!text.contains(token.as_str()));
    }
    let listed = list.iter().find(|facts| facts["id"] == made["id"]).unwrap();
    assert_eq!((&listed["name"], &listed["role"]), (&json!("Bench tablet"), &json!("support")));
    assert_eq!(listed["expires_at"], made["expires_at"]);
    for wrong in [0, 3651] {
        let body = json!({"role": "support", "expires_in_days": wrong});
        kits.server.post("/v1/tokens", &kits.publisher, &body).problem(422, "invalid-request");
    }
}

#[test]
fn a_token_ends_at_once_when_revoked() {
    let kits = two_kits();
    let list = tokens(&kits.server, &kits.publisher);
    let id = |role: &str, kit: Option<&str>| {
        let found = list.iter().find(|facts| facts["role"] == role && facts["kit"].as_str() == kit);
        found.unwrap()["id"].as_str().unwrap().to_owned()
    };
    let revoke = |id: &str, token: &str| kits.server.send("DELETE", &format!("/v1/tokens/{id}"), token, &[], None);
    // Someone else's token looks like none.
    revoke(&id("builder", Some("K-2")), &kits.first).problem(404, "not-found");
    revoke("none", &kits.publisher).problem(404, "not-found");
    revoke(&id("builder", Some("K-1")), &kits.first).expect(204);
    kits.server.get("/v1/kits/K-1", &kits.first).problem(401, "token-needed");
    revoke(&id("support", None), &kits.publisher).expect(204);
    kits.server.get("/v1/kits", &kits.support).problem(401, "token-needed");
    revoke(&id("support", None), &kits.publisher).expect(204);
    revoke(&id("publisher", None), &kits.publisher).problem(409, "last-publisher");
    kits.server.get("/v1/kits", &kits.publisher).expect(200);
    let second = kits.server.post("/v1/tokens", &kits.publisher, &json!({"role": "publisher"})).expect(201).json();
    revoke(&id("publisher", None), second["token"].as_str().unwrap()).expect(204);
    kits.server.get("/v1/kits", &kits.publisher).problem(401, "token-needed");
}

#[test]
fn a_rotated_token_is_replaced_by_one_for_the_same() {
    let kits = two_kits();
    let body = json!({"role": "support", "name": "Desk", "expires_in_days": 30});
    let old = kits.server.post("/v1/tokens", &kits.publisher, &body).expect(201).json();
    let text = |value: &Value, name: &str| value[name].as_str().unwrap().to_owned();
    let rotate =
        |id: &str, token: &str| kits.server.send("POST", &format!("/v1/tokens/{id}/rotation"), token, &[], None);
    rotate(&text(&old, "id"), &kits.support).problem(404, "not-found");
    let new = rotate(&text(&old, "id"), &text(&old, "token")).expect(201).json();
    kits.server.get("/v1/kits", &text(&old, "token")).problem(401, "token-needed");
    kits.server.get("/v1/kits", &text(&new, "token")).expect(200);
    assert_eq!(text(&new, "role"), "support");
    assert_eq!(text(&new, "expires_at").len(), text(&old, "expires_at").len());
    rotate(&text(&old, "id"), &kits.publisher).problem(409, "token-ended");

    // What was signed in for some hours does not last longer for being rotated.
    let code = card(&kits.server, &kits.support, "K-1");
    let signed = sign_in(&kits.server, "K-1", &code).expect(201).json();
    let again = rotate(&text(&signed, "id"), &text(&signed, "token")).expect(201).json();
    assert_eq!(text(&again, "expires_at"), text(&signed, "expires_at"));
}

#[test]
fn an_expired_token_is_no_token() {
    let kits = two_kits();
    let data = kits.server.stop();
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    runtime.block_on(async {
        let mut records = data.open().await;
        records.execute("UPDATE tokens SET expires_at = '2001-01-01T00:00:00.000Z' WHERE kit = 'K-1'").await.unwrap();
        records.execute("UPDATE tokens SET expires_at = '2901-01-01T00:00:00.000Z' WHERE kit = 'K-2'").await.unwrap();
    });
    let server = Server::start_in(data);
    server.get("/v1/kits/K-1", &kits.first).problem(401, "token-needed");
    server.get("/v1/kits/K-2", &kits.second).expect(200);
}
