//! Answers of text in fewer bytes (RFC 9110, sections 8.4 and 12.5.3), read back by curl, and their tags (section 8.8.3.3).

use crate::fixtures::{create_design, frame, publish_document, put_draft, two_kits};
use crate::server::Server;
use std::process::Command;

const ENCODINGS: [(&str, &str); 3] = [("br", ".br"), ("gzip", ".gzip"), ("zstd", ".zstd")];

/// What curl unpacks of an answer in an encoding.
fn unpacked(server: &Server, path: &str, token: &str, encoding: &str) -> Vec<u8> {
    let address = format!("http://{}{path}", server.address());
    let headers = [format!("accept-encoding: {encoding}"), format!("authorization: Bearer {token}")];
    let told =
        Command::new("curl").args(["-sS", "--compressed", "-H", &headers[0], "-H", &headers[1], &address]).output();
    let told = told.expect("curl runs");
    assert!(told.status.success(), "{}", String::from_utf8_lossy(&told.stderr));
    told.stdout
}

fn published() -> (Server, String) {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    publish_document(&server, &token, "frame", &frame(900));
    (server, token)
}

#[test]
fn text_comes_packed_to_who_takes_it_so_and_is_the_same_text() {
    let (server, token) = published();
    let files = "/v1/designs/frame/revisions/A/files";
    for path in ["/openapi.json", files, "/handbook/api", "/style.css"] {
        let plain = server.get(path, &token).expect(200);
        assert!(plain.body.len() > 1_000, "{path}");
        for (encoding, _) in ENCODINGS {
            let packed = server.send("GET", path, &token, &[("accept-encoding", encoding)], None).expect(200);
            assert_eq!(packed.header("content-encoding"), encoding, "{path}");
            assert!(packed.headers.get_all("vary").iter().any(|vary| vary == "accept-encoding"), "{path}");
            assert!(packed.body.len() * 2 < plain.body.len(), "{path}: {} of {}", packed.body.len(), plain.body.len());
            assert_eq!(unpacked(&server, path, &token, encoding), plain.body, "{path} as {encoding}");
        }
        let refused = server.send("GET", path, &token, &[("accept-encoding", "br;q=0, identity")], None).expect(200);
        assert!(refused.headers.get("content-encoding").is_none(), "{path}");
    }
}

#[test]
fn what_shows_a_secret_and_what_is_packed_already_stays_as_it_is() {
    let kits = two_kits();
    let takes = [("accept-encoding", "gzip, br, zstd"), ("idempotency-key", "one")];
    let pack = "/v1/kits/K-1/packs";
    let made = kits.server.send("POST", pack, &kits.publisher, &takes, Some("{}")).expect(201);
    let number = &made.json()["number"];
    let file =
        kits.server.send("GET", &format!("{pack}/{number}/file"), &kits.publisher, &takes[..1], None).expect(200);
    assert!(file.headers.get("content-encoding").is_none(), "a PDF");
    let name = "of the desk ".repeat(12);
    let new = serde_json::json!({"name": name.trim(), "role": "support"}).to_string();
    let token = kits.server.send("POST", "/v1/tokens", &kits.publisher, &takes, Some(&new)).expect(201);
    assert!(token.headers.get("content-encoding").is_none(), "a secret");
}

#[test]
fn a_packed_draft_has_a_tag_of_its_own_under_which_it_can_be_written() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    let document = frame(900).replacen('{', &format!("{{{}", " ".repeat(1_000)), 1);
    let tag = put_draft(&server, &token, "frame", &document);
    let draft = "/v1/designs/frame/draft";
    for (encoding, end) in ENCODINGS {
        let takes = ("accept-encoding", encoding);
        let packed = server.send("GET", draft, &token, &[takes], None).expect(200);
        let wanted = format!("{}{end}\"", tag.trim_end_matches('"'));
        assert_eq!(packed.header("etag"), wanted);
        let known = server.send("GET", draft, &token, &[takes, ("if-none-match", &wanted)], None).expect(304);
        assert_eq!(known.header("etag"), wanted);
        let weak = format!("W/{wanted}");
        server.send("GET", draft, &token, &[takes, ("if-none-match", &weak)], None).expect(304);
        server.send("PUT", draft, &token, &[("if-match", &wanted)], Some(&document)).expect(204);
        server.send("PUT", draft, &token, &[("if-match", &weak)], Some(&document)).problem(412, "condition-failed");
    }
}

#[test]
fn what_belongs_to_a_revision_is_asked_for_again_and_not_sent_again() {
    let (server, token) = published();
    let base = "/v1/designs/frame/revisions/A";
    let sheets =
        ["", "/document", "/members", "/parts", "/wraps", "/files", "/files/cut-sheet.csv", "/files/frame.glb"];
    for path in sheets.map(|path| format!("{base}{path}")) {
        let first = server.get(&path, &token).expect(200);
        assert_eq!(first.header("cache-control"), "private, no-cache", "{path}");
        let tag = first.header("etag").to_owned();
        let again = server.send("GET", &path, &token, &[("if-none-match", &tag)], None).expect(304);
        assert!(again.body.is_empty() && again.header("etag") == tag, "{path}");
        assert_eq!(again.header("cache-control"), "private, no-cache", "{path}");
        server.send("GET", &path, &token, &[("if-none-match", "\"other\"")], None).expect(200);
        assert_eq!(server.send("GET", &path, "", &[("if-none-match", &tag)], None).status, 401, "{path}");
    }
    // Withdrawn, it is told otherwise.
    let tag = server.get(base, &token).header("etag").to_owned();
    let reason = Some("{\"reason\": \"No more steel of this size.\"}");
    server.send("POST", &format!("{base}/withdrawal"), &token, &[], reason).expect(200);
    let told = server.send("GET", base, &token, &[("if-none-match", &tag)], None).expect(200);
    assert_eq!(told.json()["state"], "withdrawn");
}
