//! What every answer carries, what is refused before anything is done, and files handed out in parts.

use crate::fixtures::{recall, two_kits};
use crate::server::{Answer, Server};
use data_encoding::BASE64;
use serde_json::json;
use sha2::{Digest, Sha256};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::Duration;

const FILE: &str = "/v1/kits/K-1/packs/1/file";

#[test]
fn every_answer_carries_the_headers_that_browsers_keep_to() {
    let server = Server::start();
    let token = server.publisher();
    for (method, path, status) in [
        ("GET", "/", 200),
        ("GET", "/healthz", 200),
        ("GET", "/v1/public-key", 200),
        ("GET", "/v1/nowhere", 404),
        ("GET", "/v1/kits", 401),
        ("DELETE", "/v1/kits", 405),
        ("POST", "/v1/designs", 415),
        ("GET", "/docs/", 200),
    ] {
        let (token, body) = if status == 415 { (token.as_str(), Some("x")) } else { ("", None) };
        let answer = server.send(method, path, token, &[("content-type", "text/plain")], body).expect(status);
        assert_eq!(answer.header("x-content-type-options"), "nosniff");
        assert_eq!(answer.header("referrer-policy"), "same-origin");
        assert!(answer.header("permissions-policy").contains("camera=()"));
        let policy = answer.header("content-security-policy");
        assert!(policy.contains("frame-ancestors 'none'") && policy.contains("base-uri 'none'"), "{policy}");
        if path != "/docs/" {
            assert_eq!(
                policy,
                "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
            );
        }
    }
}

#[test]
fn a_token_counts_in_its_header_alone() {
    let kits = two_kits();
    let cookie = format!("matchmark={}; token={}", kits.publisher, kits.publisher);
    kits.server.send("GET", "/v1/kits", "", &[("cookie", &cookie)], None).problem(401, "token-needed");
    for name in ["access_token", "token"] {
        let path = format!("/v1/kits/K-1/packs?{name}={}", kits.publisher);
        kits.server.get(&path, "").problem(400, "bad-request");
        kits.server.get(&path, &kits.publisher).problem(400, "bad-request");
    }
}

#[test]
fn an_answer_of_no_accepted_media_type_is_not_given() {
    let kits = two_kits();
    let get = |accept: &str| kits.server.send("GET", FILE, &kits.first, &[("accept", accept)], None);
    get("text/html").problem(406, "not-acceptable");
    get("application/pdf;q=0, image/png").problem(406, "not-acceptable");
    for accept in ["application/pdf", "application/*", "text/html, */*;q=0.1"] {
        get(accept).expect(200);
    }
    let facts = kits.server.get("/v1/kits/K-1/packs/1", &kits.first).json();
    assert_eq!(facts["downloads"], 3, "what was not handed out was not fetched");
}

fn part(answer: &Answer) -> (&str, &[u8]) {
    (answer.header("content-range"), &answer.body)
}

#[test]
fn a_pack_comes_whole_or_in_parts_that_make_the_whole() {
    let kits = two_kits();
    let get = |headers: &[(&str, &str)]| kits.server.send("GET", FILE, &kits.first, headers, None);
    let whole = get(&[]).expect(200);
    let tag = whole.header("etag").to_owned();
    let length = whole.body.len();
    let hash = Sha256::digest(&whole.body);
    assert_eq!(whole.header("repr-digest"), format!("sha-256=:{}:", BASE64.encode(&hash)));
    assert_eq!(whole.header("accept-ranges"), "bytes");
    assert_eq!(whole.header("cache-control"), "private, no-cache");

    let middle = length / 3;
    let first = get(&[("range", &format!("bytes=0-{}", middle - 1))]).expect(206);
    assert_eq!(part(&first), (format!("bytes 0-{}/{length}", middle - 1).as_str(), &whole.body[..middle]));
    assert_eq!(first.header("repr-digest"), whole.header("repr-digest"), "the digest is of the whole");
    let rest = get(&[("range", &format!("bytes={middle}-")), ("if-range", &tag)]).expect(206);
    assert_eq!([first.body.as_slice(), rest.body.as_slice()].concat(), whole.body);
    let last = get(&[("range", "bytes=-7")]).expect(206);
    assert_eq!(last.body, whole.body[length - 7..]);

    // Another version, several ranges, or what is no range: the whole, never a wrong part.
    for headers in [
        [("range", "bytes=0-9"), ("if-range", "\"00\"")],
        [("range", "bytes=0-1,4-5"), ("if-range", &tag)],
        [("range", "pages=1-2"), ("if-range", &tag)],
    ] {
        assert_eq!(get(&headers).expect(200).body, whole.body);
    }
    let beyond = get(&[("range", &format!("bytes={length}-"))]);
    assert_eq!(beyond.header("content-range"), format!("bytes */{length}"));
    beyond.problem(416, "range-refused");
    let known = get(&[("if-none-match", &tag), ("range", "bytes=0-9")]).expect(304);
    assert!(known.body.is_empty());

    let head = kits.server.send("HEAD", FILE, &kits.first, &[], None).expect(200);
    for name in ["content-length", "etag", "repr-digest", "cache-control", "content-type", "accept-ranges"] {
        assert_eq!(head.header(name), whole.header(name), "{name}");
    }
    // The whole four times, and the part that began at the beginning.
    assert_eq!(kits.server.get("/v1/kits/K-1/packs/1", &kits.first).json()["downloads"], 5);
}

#[test]
fn a_part_of_a_recalled_pack_is_not_handed_out_either() {
    let kits = two_kits();
    recall(&kits, "A");
    kits.server.send("GET", FILE, &kits.first, &[("range", "bytes=0-9")], None).problem(409, "stop-sheet-first");
}

#[test]
fn boxes_are_never_written_over_those_of_another() {
    let kits = two_kits();
    let path = "/v1/kits/K-1/boxes";
    let body = json!({"boxes": [{"name": "1 of 1", "parts": ["post.L"]}]}).to_string();
    let put = |headers: &[(&str, &str)]| kits.server.send("PUT", path, &kits.support, headers, Some(&body));
    put(&[]).problem(428, "condition-needed");
    let before = kits.server.get(path, &kits.support).header("etag").to_owned();
    let after = put(&[("if-match", &before)]).expect(200).header("etag").to_owned();
    assert_ne!(before, after);
    assert_eq!(kits.server.get(path, &kits.support).header("etag"), after);
    put(&[("if-match", &before)]).problem(412, "condition-failed");
}

#[test]
fn who_asks_too_often_is_told_how_long_to_wait() {
    let server = Server::start_with(&["--requests-per-address", "3"]);
    let token = server.publisher();
    // Its first request comes from the allowance of the address.
    server.get("/v1/designs", &token).expect(200);
    for left in [1, 0] {
        let answer = server.get("/v1/public-key", "").expect(200);
        assert_eq!(answer.header("ratelimit-policy"), "\"default\";q=3;w=60");
        let told: u32 = answer.header("ratelimit").split(&['=', ';'][..]).nth(2).unwrap().parse().unwrap();
        assert_eq!(told, left);
    }
    let last = server.get("/v1/public-key", "");
    let wait: u64 = last.header("retry-after").parse().unwrap();
    assert!((1..=61).contains(&wait));
    last.problem(429, "too-many-requests");
    server.send("GET", "/v1/public-key", "mmp_made_up", &[], None).problem(429, "too-many-requests");
    server.send("GET", "/", "", &[("cookie", "matchmark=mmw_made_up")], None).problem(429, "too-many-requests");
    // Probes, and a token that has proven good, are not held up by it; one that was made up is.
    server.get("/healthz", "").expect(200);
    server.get("/v1/designs", &token).expect(200);
    server.get("/v1/designs", "mmp_made_up").problem(429, "too-many-requests");
}

/// Sends the beginning of a request and returns what comes until the server has enough of it.
fn begin_and_wait(server: &Server, beginning: &str) -> String {
    let mut stream = TcpStream::connect(server.address()).unwrap();
    stream.set_read_timeout(Some(Duration::from_secs(180))).unwrap();
    stream.write_all(beginning.as_bytes()).unwrap();
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).expect("the connection is kept for ever");
    String::from_utf8(answer).unwrap()
}

#[test]
fn who_never_ends_a_request_does_not_hold_a_connection_for_ever() {
    let server = Server::start();
    let token = server.publisher();
    let head = format!("POST /v1/designs HTTP/1.1\r\nHost: h\r\nAuthorization: Bearer {token}\r\n");
    let body = "Content-Type: application/json\r\nContent-Length: 1000\r\n\r\n{\"id\": ";
    std::thread::scope(|scope| {
        scope.spawn(|| begin_and_wait(&server, &format!("{head}X-Slow: ")));
        let answer = begin_and_wait(&server, &format!("{head}{body}"));
        assert!(answer.starts_with("HTTP/1.1 408") && answer.contains("/problems/too-slow"), "{answer}");
    });
    server.get("/v1/designs", &token).expect(200);
}

#[test]
fn who_takes_nothing_of_an_answer_does_not_hold_a_connection_for_ever() {
    const ASKED: usize = 20;
    let server = Server::start();
    let script = server.get("/docs/swagger-ui-bundle.js", "").expect(200).body.len();
    let mut stream = TcpStream::connect(server.address()).unwrap();
    // More than the system keeps between a sender and a reader.
    assert!(ASKED * script > 24 << 20, "{script}");
    let request = "GET /docs/swagger-ui-bundle.js HTTP/1.1\r\nHost: h\r\n\r\n";
    stream.write_all(request.repeat(ASKED).as_bytes()).unwrap();
    std::thread::sleep(Duration::from_secs(30));
    let (mut taken, mut buffer) = (0, vec![0; 1 << 20]);
    // The end, or a reset.
    while let Ok(count @ 1..) = stream.read(&mut buffer) {
        taken += count;
    }
    assert!(taken < ASKED * script, "all of {taken} bytes came after half a minute of silence");
    server.get("/healthz", "").expect(200);
}
