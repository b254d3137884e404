//! Saves of a draft: kept, restored, compared; and which kits a draft would touch.

use crate::fixtures::{create_design, create_kit, frame, publish_document, put_draft, two_kits};
use crate::server::Server;
use serde_json::{Value, json};

fn numbers(server: &Server, token: &str, query: &str) -> (Vec<i64>, Value) {
    let body = server.get(&format!("/v1/designs/frame/draft/saves{query}"), token).expect(200).json();
    let saves = body["saves"].as_array().unwrap();
    (saves.iter().map(|save| save["number"].as_i64().unwrap()).collect(), body)
}

#[test]
fn every_save_is_kept_and_can_be_restored() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    for height in [900, 901, 902, 902] {
        put_draft(&server, &token, "frame", &frame(height));
    }
    let (listed, body) = numbers(&server, &token, "");
    assert_eq!(listed, [3, 2, 1], "the same again is no new save: {body}");
    let (first, page) = numbers(&server, &token, "?page_size=2");
    assert_eq!(first, [3, 2]);
    let next = format!("?page_size=2&cursor={}", page["next"].as_str().unwrap());
    assert_eq!(numbers(&server, &token, &next).0, [1]);

    let saved = server.get("/v1/designs/frame/draft/saves/1", &token).expect(200);
    assert_eq!(String::from_utf8(saved.body).unwrap(), frame(900));
    server.get("/v1/designs/frame/draft/saves/9", &token).problem(404, "unknown-save");

    let etag = server.get("/v1/designs/frame/draft", &token).header("etag").to_owned();
    let restore = |tag: &str, body: Value| {
        let headers = [("if-match", tag)];
        server.send("POST", "/v1/designs/frame/draft/restoration", &token, &headers, Some(&body.to_string()))
    };
    restore("\"00\"", json!({"save": 1})).problem(412, "condition-failed");
    restore(&etag, json!({"save": 9})).problem(404, "unknown-save");
    restore(&etag, json!({})).problem(422, "invalid-request");
    restore(&etag, json!({"save": 1, "revision": "A"})).problem(422, "invalid-request");
    restore(&etag, json!({"save": 1})).expect(204);
    let draft = server.get("/v1/designs/frame/draft", &token).expect(200);
    assert_eq!(String::from_utf8(draft.body).unwrap(), frame(900));
    let (listed, body) = numbers(&server, &token, "");
    assert_eq!(listed, [4, 3, 2, 1]);
    assert_eq!(body["saves"][0]["restored"], "save 1");
}

#[test]
fn the_next_revision_can_start_from_any_earlier_one() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    for height in [900, 904, 908] {
        publish_document(&server, &token, "frame", &frame(height));
    }
    let restore = json!({"revision": "A"}).to_string();
    let any = [("if-match", "*")];
    server.send("POST", "/v1/designs/frame/draft/restoration", &token, &any, Some(&restore)).expect(204);
    let changes = server.get("/v1/designs/frame/draft/changes?from=A", &token).expect(200).json();
    assert!(changes["parts"].as_array().unwrap().iter().all(|part| part["kind"] == "unchanged"), "{changes}");
    let changes = server.get("/v1/designs/frame/draft/changes", &token).expect(200).json();
    assert_eq!((changes["from"].as_str(), changes["to"].as_str()), (Some("C"), Some("draft")));
    // Posts of 908 made into posts of 900: the old ones are long enough.
    assert!(changes["parts"].as_array().unwrap().iter().all(|part| part["kind"] == "rework"), "{changes}");
    assert_eq!(publish_document(&server, &token, "frame", &frame(900)), "D");
}

#[test]
fn before_publishing_it_is_seen_which_kits_are_touched_and_how() {
    let kits = two_kits();
    create_kit(&kits.server, &kits.publisher, "K-3", "frame", "A");
    // Between the two revisions: posts of A (900) are too short, those of B (904) can be trimmed.
    let etag = put_draft(&kits.server, &kits.publisher, "frame", &frame(902));
    let touched = kits.server.get("/v1/designs/frame/draft/touched", &kits.support).expect(200).json();
    assert_eq!(format!("\"{}\"", touched["draft_sha256"].as_str().unwrap()), etag);
    assert_eq!((touched["kits_touched"].as_i64(), touched["kits_untouched"].as_i64()), (Some(3), Some(0)));
    let groups = touched["groups"].as_array().unwrap();
    assert_eq!(groups.len(), 2);
    assert_eq!((&groups[0]["revision"], &groups[0]["serials"]), (&json!("A"), &json!(["K-1", "K-3"])));
    assert_eq!(groups[0]["counts"]["replace"], 2);
    assert_eq!((&groups[1]["revision"], &groups[1]["serials"]), (&json!("B"), &json!(["K-2"])));
    assert_eq!(groups[1]["counts"]["rework"], 2);

    // A draft equal to B leaves the kit on B alone.
    put_draft(&kits.server, &kits.publisher, "frame", &frame(904));
    let touched = kits.server.get("/v1/designs/frame/draft/touched", &kits.support).expect(200).json();
    assert_eq!((touched["kits_touched"].as_i64(), touched["kits_untouched"].as_i64()), (Some(2), Some(1)));
    let on_b = &touched["groups"][1];
    assert_eq!(
        (&on_b["touched"], &on_b["counts"]["unchanged"], &on_b["changes"]["parts"]),
        (&json!(false), &json!(2), &json!([]))
    );
}
