//! The demo as its visitor meets it.

use crate::server::Server;
use serde_json::Value;
use std::collections::BTreeMap;

/// The builders' tokens that the demo prints, by serial.
fn builders(server: &Server) -> BTreeMap<String, String> {
    let words = server.printed.lines().map(|line| line.split_whitespace());
    words
        .filter_map(|mut words| match (words.next(), words.next(), words.next()) {
            (Some("builder"), Some(serial), Some(token)) => Some((serial.to_owned(), token.to_owned())),
            _ => None,
        })
        .collect()
}

/// Overall length of every member on a kit's cut sheet.
fn lengths(server: &Server, serial: &str, token: &str) -> BTreeMap<String, f64> {
    let kit = server.get(&format!("/v1/kits/{serial}"), token).expect(200).json();
    let path = format!(
        "/v1/designs/{}/revisions/{}/cut-sheet",
        kit["design"].as_str().unwrap(),
        kit["revision"].as_str().unwrap()
    );
    let sheet = server.get(&path, token).expect(200).json();
    let length = |row: &Value| {
        let member = row["member"].as_str().unwrap().to_owned();
        (member, row["overall"].as_f64().unwrap())
    };
    sheet["rows"].as_array().unwrap().iter().map(length).collect()
}

#[test]
fn two_kits_on_different_revisions_differ_in_what_changed_and_in_nothing_else() {
    let server = Server::demo();
    let tokens = builders(&server);
    assert_eq!(tokens.len(), 4, "{}", server.printed);
    let first = lengths(&server, "QF-0101", &tokens["QF-0101"]);
    let last = lengths(&server, "QF-0108", &tokens["QF-0108"]);
    let changed =
        first.iter().filter(|(member, length)| last.get(*member).is_some_and(|other| (other - **length).abs() > 0.01));
    assert!(changed.count() > 0, "some part changed");
    let same = first.iter().filter(|(member, length)| last.get(*member) == Some(length));
    assert!(same.count() > 0, "some part stayed");
    server.get("/v1/kits/QF-0108", &tokens["QF-0101"]).problem(404, "not-found");
    for (serial, token) in &tokens {
        let pack = server.get(&format!("/v1/kits/{serial}/packs/1/file"), token);
        assert!(pack.expect(200).body.starts_with(b"%PDF-"));
    }
}
