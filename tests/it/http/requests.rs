//! What no request may hold: a name twice, and characters that nobody sees.

use crate::fixtures::{create_design, frame, new_kit, two_kits};
use crate::server::Server;
use serde_json::json;

#[test]
fn a_name_given_twice_is_refused_at_every_depth() {
    let kits = two_kits();
    let server = &kits.server;
    let send = |method: &str, path: &str, body: &str, headers: &[(&str, &str)]| {
        server.send(method, path, &kits.publisher, headers, Some(body))
    };
    let twice = frame(900).replacen("\"od\": 45", "\"od\": 45, \"od\": 48", 1);
    let etag = server.get("/v1/designs/frame/draft", &kits.publisher).header("etag").to_owned();
    for (method, path, body, pointer) in [
        ("POST", "/v1/designs", r#"{"id": "x", "name": "X", "id": "y"}"#, "/id"),
        (
            "POST",
            "/v1/kits",
            r#"{"serial": "K-9", "design": "frame", "revision": "A", "choices": {"a": "b", "a": "c"}, "customer": {"name": "A", "email": "a@example.com"}}"#,
            "/choices/a",
        ),
        (
            "POST",
            "/v1/kits",
            r#"{"serial": "K-9", "design": "frame", "revision": "A", "customer": {"name": "A", "email": "a@example.com", "name": "B"}}"#,
            "/customer/name",
        ),
        ("POST", "/v1/kits/K-1/measurements", r#"{"a/b": 1, "a\u002fb": 2}"#, "/a~1b"),
        (
            "PUT",
            "/v1/kits/K-1/boxes",
            r#"{"boxes": [{"name": "1", "parts": []}, {"name": "2", "name": "3", "parts": []}]}"#,
            "/boxes/1/name",
        ),
        ("PUT", "/v1/designs/frame/draft", twice.as_str(), "/sections/hoop/round/od"),
        ("POST", "/v1/joint", r#"{"cases": [{"x": {"y": 1, "y": 1}}]}"#, "/cases/0/x/y"),
    ] {
        let problem = send(method, path, body, &[("if-match", &etag)]).problem(422, "invalid-request");
        assert_eq!(problem["errors"][0]["pointer"], pointer, "{path}: {problem}");
        let said = problem["errors"][0]["detail"].as_str().unwrap();
        assert!(said.contains("appears twice in the same object"), "{said}");
    }
    // The same name in two objects is none twice, and what is no JSON is said to be none.
    send("POST", "/v1/kits", &new_kit("K-9", "frame", "A").to_string(), &[]).expect(201);
    send("POST", "/v1/designs", r#"{"id": "x", "#, &[]).problem(400, "malformed-json");
    send("POST", "/v1/designs", r#"{"id": "x", "name": "X"} {}"#, &[]).problem(400, "malformed-json");
}

#[test]
fn names_and_notes_hold_nothing_that_nobody_sees() {
    let kits = two_kits();
    let server = &kits.server;
    for hidden in ["\u{202e}", "\u{feff}", "\u{200b}", "\u{e0041}", "\u{2066}", "\u{200d}"] {
        let text = format!("Mira{hidden}n");
        let mut kit = new_kit("K-9", "frame", "A");
        kit["customer"]["name"] = json!(text);
        kit["order_number"] = json!(text);
        for (path, body, pointers) in [
            ("/v1/kits", kit, &["/order_number", "/customer/name"][..]),
            ("/v1/designs", json!({"id": "x", "name": text}), &["/name"]),
            ("/v1/kits/K-1/notes", json!({"text": text}), &["/text"]),
            ("/v1/kits/K-1/holds", json!({"reason": text, "ask": text}), &["/reason", "/ask"]),
            ("/v1/kits/K-1/moves", json!({"revision": "B", "reason": text}), &["/reason"]),
            ("/v1/tokens", json!({"role": "support", "name": text}), &["/name"]),
            ("/v1/designs/frame/revisions/A/withdrawal", json!({"reason": text}), &["/reason"]),
            (
                "/v1/designs/frame/revisions/A/recall",
                json!({"hazard": text, "what_to_do": "x", "remedies": "x"}),
                &["/hazard"],
            ),
            (
                "/v1/designs/frame/notices",
                json!({"from": "A", "to": "B", "class": "optional", "text": text}),
                &["/text"],
            ),
        ] {
            let problem = server.post(path, &kits.publisher, &body).problem(422, "invalid-request");
            let found: Vec<&str> =
                problem["errors"].as_array().unwrap().iter().map(|error| error["pointer"].as_str().unwrap()).collect();
            assert_eq!(found, pointers, "{path}");
            let code = format!("U+{:04X}", u32::from(hidden.chars().next().unwrap()));
            assert!(problem["errors"][0]["detail"].as_str().unwrap().contains(&code), "{problem}");
        }
    }
    // What scripts need stays.
    for name in ["می\u{200c}خواهم", "ශ්\u{200d}රී", "Zoë \u{1f469}\u{200d}\u{1f527}"] {
        let note = json!({"text": name});
        server.post("/v1/kits/K-1/notes", &kits.support, &note).expect(201);
    }
}

#[test]
fn a_document_is_warned_of_what_nobody_sees() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    let draft = frame(900).replace("For tests only.", "For tests\u{200b} only.");
    server.send("PUT", "/v1/designs/frame/draft", &token, &[("if-none-match", "*")], Some(&draft)).expect(201);
    let found = server.get("/v1/designs/frame/draft/findings", &token).expect(200).json();
    let finding = found["findings"].as_array().unwrap().iter().find(|one| one["code"] == "unseen-character");
    assert_eq!(finding.unwrap()["pointer"], "/notes/0");
    assert_eq!((&found["errors"], &finding.unwrap()["severity"]), (&json!(0), &json!("warning")));
}

/// RFC 8259, section 8.1: a reader may pass over a byte order mark.
#[test]
fn a_byte_order_mark_before_a_body_changes_nothing() {
    let server = Server::start();
    let publisher = server.publisher();
    create_design(&server, &publisher, "frame");
    let marked = format!("\u{feff}{}", frame(900));
    let headers = [("content-type", "application/json"), ("if-none-match", "*")];
    let saved = server.send("PUT", "/v1/designs/frame/draft", &publisher, &headers, Some(&marked));
    assert!([201, 204].contains(&saved.status), "{saved:?}");
    let draft = server.get("/v1/designs/frame/draft", &publisher).expect(200);
    assert!(!draft.body.starts_with(b"\xef\xbb\xbf"));
}
