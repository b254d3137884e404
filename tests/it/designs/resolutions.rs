//! Open ends decided on request.

use crate::fixtures::broken_frame;
use crate::server::Server;
use serde_json::{Value, json};

/// Three equal tubes at a corner, drawn as bare centrelines.
fn corner() -> Value {
    let tube = |id: &str, to: [f64; 3]| json!({"id": id, "section": "tube", "from": "o", "to": to});
    json!({
        "format": "matchmark-design/1", "name": "Corner",
        "materials": {"steel": {"name": "S235", "density": 7850}},
        "sections": {"tube": {"round": {"od": 25, "wall": 1.5}, "material": "steel"}},
        "points": {"o": [0, 0, 0]},
        "members": [tube("a", [300.0, 0.0, 0.0]), tube("b", [0.0, 300.0, 0.0]), tube("c", [0.0, 0.0, 300.0])],
    })
}

#[test]
fn ends_are_decided_and_nothing_is_kept() {
    let server = Server::start();
    let token = server.publisher();
    let answer = server.post("/v1/resolutions", &token, &corner()).expect(200).json();
    let ends: Vec<&Value> =
        answer["document"]["members"].as_array().unwrap().iter().map(|one| &one["ends"]["from"]).collect();
    assert_eq!(
        ends,
        [&json!({"mitre": {"with": "b"}}), &json!({"mitre": {"with": "a"}}), &json!({"cope": ["a", "b"]})]
    );
    assert_eq!(answer["findings"], json!([]));
    let said = answer["report"]["nodes"][0]["said"].as_str().unwrap();
    assert_eq!(said, "`a` and `b` are mitred to each other; `c` is fitted to `a` and `b`.");
    // A mitre at a right angle rises by the diameter (derivable): half of it on either side of the point.
    let long = answer["report"]["ends"][0]["long"].as_f64().unwrap();
    assert!((long + 12.5).abs() < 1e-3, "{long}");
    // What was decided is not decided again.
    let again = server.post("/v1/resolutions", &token, &answer["document"]).expect(200).json();
    assert_eq!((&again["document"], &again["report"]["ends"]), (&answer["document"], &json!([])));
    assert_eq!(server.get("/v1/designs", &token).expect(200).json()["designs"], json!([]));
}

#[test]
fn what_cannot_be_placed_is_refused_with_all_that_is_wrong() {
    let server = Server::start();
    let token = server.publisher();
    let broken: Value = serde_json::from_str(&broken_frame()).unwrap();
    let problem = server.post("/v1/resolutions", &token, &broken).expect(422).json();
    assert!(problem["type"].as_str().unwrap().ends_with("design-has-errors"), "{problem}");
    assert!(!problem["findings"].as_array().unwrap().is_empty());
}

/// An end that cannot be decided stays open, and the answer says why.
#[test]
fn an_end_that_cannot_be_made_stays_open() {
    let server = Server::start();
    let token = server.publisher();
    let mut sharp = corner();
    sharp["members"][0]["ends"] = json!({"from": "square", "to": "square"});
    sharp["members"][1]["to"] = json!([300.0, 40.0, 0.0]);
    sharp["members"].as_array_mut().unwrap().truncate(2);
    let answer = server.post("/v1/resolutions", &token, &sharp).expect(200).json();
    assert_eq!(answer["findings"][0]["code"], "too-sharp");
    assert_eq!(answer["document"]["members"][1]["ends"].get("from"), None);
}
