//! Lists in pages (RFC 8288 links beside the cursor).

use crate::fixtures::{create_design, create_kit, frame, publish_document};
use crate::server::Server;

fn seven_kits() -> (Server, String) {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    for (letter, height) in [("A", 900), ("B", 901)] {
        publish_document(&server, &token, "frame", &frame(height));
        for number in 0..4 {
            let serial = format!("{letter}K-{number}");
            create_kit(&server, &token, &serial, "frame", letter);
        }
    }
    (server, token)
}

fn serials(body: &serde_json::Value) -> Vec<String> {
    let kits = body["kits"].as_array().unwrap().iter();
    kits.map(|kit| kit["serial"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn following_the_links_meets_each_kit_once() {
    let (server, token) = seven_kits();
    let mut path = "/v1/kits?page_size=3".to_owned();
    let mut met = Vec::new();
    loop {
        let answer = server.get(&path, &token).expect(200);
        let body = answer.json();
        met.extend(serials(&body));
        let Some(next) = body["next"].as_str() else {
            assert!(!answer.headers.contains_key("link"));
            break;
        };
        let link = answer.header("link");
        assert!(link.contains(next) && link.ends_with("; rel=\"next\""));
        path = link.split(['<', '>']).nth(1).unwrap().to_owned();
    }
    let expected: Vec<String> =
        ["AK", "BK"].iter().flat_map(|prefix| (0..4).map(move |number| format!("{prefix}-{number}"))).collect();
    assert_eq!(met, expected);
}

#[test]
fn filters_narrow_the_list() {
    let (server, token) = seven_kits();
    let found = |query: &str| {
        let path = format!("/v1/kits?{query}");
        serials(&server.get(&path, &token).expect(200).json())
    };
    assert_eq!(found("serial=AK-").len(), 4);
    assert_eq!(found("revision=B").len(), 4);
    assert_eq!(found("serial=AK&revision=B").len(), 0);
    assert_eq!(found("design=none").len(), 0);
    // A percent sign is a character like any other, not a wildcard.
    assert_eq!(found("serial=%25").len(), 0);
}

#[test]
fn a_cursor_belongs_to_its_filters() {
    let (server, token) = seven_kits();
    let first = server.get("/v1/kits?page_size=2&revision=A", &token).expect(200);
    let body = first.json();
    let cursor = body["next"].as_str().unwrap();
    let path = format!("/v1/kits?page_size=2&revision=B&cursor={cursor}");
    server.get(&path, &token).problem(400, "bad-request");
}
