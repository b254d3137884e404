//! A small frame in several states, and the steps that tests share.

use crate::server::{Answer, Server, run_on};
use serde_json::{Value, json};
use std::sync::atomic::{AtomicUsize, Ordering};

/// A frame of a mirrored pair of posts of this height, each with a sloping top.
pub fn frame(height: u32) -> String {
    let document = json!({
        "format": "matchmark-design/1",
        "name": "Test Frame",
        "materials": {"cds": {"name": "cold drawn seamless", "density": 7850}},
        "sections": {"hoop": {"round": {"od": 45, "wall": 2.5}, "material": "cds"}},
        "points": {"a.L": [0, 400, 0], "b.L": [0, 400, height]},
        "members": [{
            "id": "post.L", "section": "hoop", "from": "a.L", "to": "b.L", "mirror": true,
            "ends": {"from": "square", "to": {"mitre": {"normal": [0.5, 0, 1]}}}
        }],
        "notes": ["For tests only."]
    });
    serde_json::to_string_pretty(&document).unwrap()
}

/// A frame with an error: its member starts at a point that is not there.
pub fn broken_frame() -> String {
    frame(900).replace("\"from\": \"a.L\"", "\"from\": \"nowhere.L\"")
}

/// A frame with a warning: a post coped to a rail that is thinner, so that part of its wall misses.
pub fn doubtful_frame() -> String {
    let document = json!({
        "format": "matchmark-design/1",
        "name": "Test Frame",
        "materials": {"cds": {"name": "cold drawn seamless", "density": 7850}},
        "sections": {
            "post": {"round": {"od": 45, "wall": 2.5}, "material": "cds"},
            "rail": {"round": {"od": 20, "wall": 2}, "material": "cds"}
        },
        "points": {"a": [0, -400, 0], "b": [0, 400, 0], "c": [0, 0, 0], "d": [0, 0, 900]},
        "members": [
            {"id": "rail", "section": "rail", "from": "a", "to": "b", "ends": {"from": "square", "to": "square"}},
            {"id": "post", "section": "post", "from": "c", "to": "d", "ends": {"from": {"cope": ["rail"]}, "to": "square"}}
        ]
    });
    document.to_string()
}

/// A tube of 60 square onto a tube of 100, as a single joint.
pub fn saddle() -> Value {
    json!({
        "tube": {"round": {"od": 60, "wall": 3}, "from": [0, 0, 400], "to": [0, 0, 0]},
        "end": "to",
        "onto": [{"round": {"od": 100, "wall": 4}, "from": [-500, 0, 0], "to": [500, 0, 0]}]
    })
}

/// Six parts that fill two bars flush: 2 x 2997 + 2 and 4 x 1497.5 + 3 x 2 are both 6000 less 4 of trim.
pub fn bars_and_parts() -> Value {
    json!({
        "kerf": 2, "trim": 4,
        "stock": [{"length": 6000, "price": 41.5, "count": null}],
        "parts": [{"id": "A", "length": 2997, "count": 2}, {"id": "B", "length": 1497.5, "count": 4}]
    })
}

/// Creates a design.
pub fn create_design(server: &Server, token: &str, id: &str) {
    let new = json!({"id": id, "name": "Test Frame"});
    server.post("/v1/designs", token, &new).expect(201);
}

/// Writes the draft, whatever was there, and returns its entity tag.
pub fn put_draft(server: &Server, token: &str, design: &str, document: &str) -> String {
    let path = format!("/v1/designs/{design}/draft");
    let now = server.get(&path, token);
    let condition =
        if now.status == 200 { ("if-match", now.header("etag").to_owned()) } else { ("if-none-match", "*".to_owned()) };
    let headers = [(condition.0, condition.1.as_str())];
    let answer = server.send("PUT", &path, token, &headers, Some(document));
    assert!([201, 204].contains(&answer.status), "{answer:?}");
    answer.header("etag").to_owned()
}

/// Publishes the draft with this entity tag.
pub fn publish(server: &Server, token: &str, design: &str, etag: &str) -> Answer {
    let path = format!("/v1/designs/{design}/revisions");
    let body = json!({"change_note": "For a test.", "class": "recommended"}).to_string();
    server.send("POST", &path, token, &[("if-match", etag)], Some(&body))
}

/// Writes and publishes a document and returns the letter of the revision.
pub fn publish_document(server: &Server, token: &str, design: &str, document: &str) -> String {
    let etag = put_draft(server, token, design, document);
    let revision = publish(server, token, design, &etag).expect(201).json();
    revision["letter"].as_str().unwrap().to_owned()
}

/// Registers a kit.
pub fn create_kit(server: &Server, token: &str, serial: &str, design: &str, letter: &str) {
    let kit = new_kit(serial, design, letter);
    server.post("/v1/kits", token, &kit).expect(201);
}

/// The body that registers a kit.
pub fn new_kit(serial: &str, design: &str, letter: &str) -> Value {
    json!({
        "serial": serial, "design": design, "revision": letter,
        "customer": {"name": "A. Builder", "email": "builder@example.com"}
    })
}

/// A token for the builder of a kit.
pub fn builder_token(server: &Server, token: &str, serial: &str) -> String {
    let path = format!("/v1/kits/{serial}/tokens");
    let answer = server.send("POST", &path, token, &[], None).expect(201);
    answer.json()["token"].as_str().unwrap().to_owned()
}

/// A token for a support agent.
pub fn support_token(server: &Server, token: &str) -> String {
    let answer = server.post("/v1/tokens", token, &json!({"role": "support"}));
    answer.expect(201).json()["token"].as_str().unwrap().to_owned()
}

/// The publisher's token of another person, made on the machine.
pub fn another(server: &Server) -> String {
    static PEOPLE: AtomicUsize = AtomicUsize::new(1);
    let name = format!("Mira {}", PEOPLE.fetch_add(1, Ordering::Relaxed));
    let made = run_on(&server.data, &["token", "--name", &name]);
    assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    String::from_utf8(made.stdout).unwrap().trim().to_owned()
}

/// A design `frame` with revisions A (posts of 900) and B (posts of 904), kit K-1 on A and kit K-2 on B with a pack each.
pub struct TwoKits {
    pub server: Server,
    pub publisher: String,
    pub support: String,
    /// Token of the builder of K-1.
    pub first: String,
    /// Token of the builder of K-2.
    pub second: String,
}

pub fn two_kits() -> TwoKits {
    two_kits_on(Server::start())
}

/// The same on a fresh server.
pub fn two_kits_on(server: Server) -> TwoKits {
    let publisher = server.publisher();
    create_design(&server, &publisher, "frame");
    for (serial, height) in [("K-1", 900), ("K-2", 904)] {
        let letter = publish_document(&server, &publisher, "frame", &frame(height));
        create_kit(&server, &publisher, serial, "frame", &letter);
        let path = format!("/v1/kits/{serial}/packs");
        server.post(&path, &publisher, &json!({})).expect(201);
    }
    TwoKits {
        support: support_token(&server, &publisher),
        first: builder_token(&server, &publisher, "K-1"),
        second: builder_token(&server, &publisher, "K-2"),
        server,
        publisher,
    }
}

/// A recall with all that it needs.
pub fn a_recall() -> Value {
    json!({
        "hazard": "The posts can break. People under them can be killed.",
        "what_to_do": "Stop building and keep all parts.",
        "remedies": "New posts free of charge, or your money back."
    })
}

/// Recalls a revision of the design `frame`.
pub fn recall(kits: &TwoKits, letter: &str) {
    let path = format!("/v1/designs/frame/revisions/{letter}/recall");
    kits.server.post(&path, &kits.publisher, &a_recall()).expect(200);
}
