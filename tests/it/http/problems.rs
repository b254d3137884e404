//! Every error is a problem detail (RFC 9457) whose type has a page.

use crate::fixtures::two_kits;
use crate::server::Server;
use serde_json::json;
use std::collections::BTreeSet;

struct Case {
    method: &'static str,
    path: &'static str,
    headers: &'static [(&'static str, &'static str)],
    body: Option<&'static str>,
    status: u16,
    kind: &'static str,
}

const fn case(
    method: &'static str,
    path: &'static str,
    body: Option<&'static str>,
    status: u16,
    kind: &'static str,
) -> Case {
    Case { method, path, headers: &[], body, status, kind }
}

const CASES: &[Case] = &[
    case("GET", "/nowhere", None, 404, "not-found"),
    case("GET", "/v1/nowhere", None, 404, "not-found"),
    case("GET", "/problems/none", None, 404, "not-found"),
    case("DELETE", "/v1/kits/K-1", None, 405, "method-not-allowed"),
    case("TRACE", "/v1/kits", None, 405, "method-not-allowed"),
    case("GET", "/v1/designs/none", None, 404, "unknown-design"),
    case("GET", "/v1/designs/none/draft", None, 404, "unknown-design"),
    case("GET", "/v1/designs/frame/revisions/Z", None, 404, "unknown-revision"),
    case("GET", "/v1/designs/frame/revisions/A/members/x", None, 404, "unknown-member"),
    case("GET", "/v1/designs/frame/revisions/A/wraps/post.L/up", None, 404, "unknown-wrap"),
    case("GET", "/v1/designs/frame/revisions/A/wraps/x/to/svg", None, 404, "unknown-wrap"),
    case("GET", "/v1/designs/frame/draft/pack?paper=a9", None, 400, "bad-request"),
    case("GET", "/v1/kits/K-404", None, 404, "unknown-kit"),
    case("GET", "/v1/kits/K-1/packs/9", None, 404, "unknown-pack"),
    case("GET", "/v1/kits/K-1/packs/one/file", None, 404, "unknown-pack"),
    case("GET", "/v1/kits?page_size=0", None, 400, "bad-request"),
    case("GET", "/v1/kits?page_size=-1", None, 400, "bad-request"),
    case("GET", "/v1/kits?colour=red", None, 400, "bad-request"),
    case("GET", "/v1/kits?cursor=abc", None, 400, "bad-request"),
    case("GET", "/v1/kits/%FF", None, 400, "bad-request"),
    case("POST", "/v1/designs", Some("{"), 400, "malformed-json"),
    case("POST", "/v1/designs", Some("{} {}"), 400, "malformed-json"),
    case("POST", "/v1/designs", Some("{}"), 422, "invalid-request"),
    case("PUT", "/v1/designs/frame/draft", Some("{]"), 400, "malformed-json"),
    case("POST", "/v1/designs", Some("{\"id\":\"frame\",\"name\":\"x\"}"), 409, "design-exists"),
    case("POST", "/v1/joint", Some("nonsense"), 400, "malformed-json"),
    Case { headers: &[("content-type", "text/plain")], ..case("POST", "/v1/designs", Some("{}"), 415, "media-type") },
    Case {
        headers: &[("no-idempotency-key", "")],
        ..case("POST", "/v1/kits/K-1/packs", Some("{}"), 400, "idempotency-key-missing")
    },
    Case { headers: &[("idempotency-key", "")], ..case("POST", "/v1/kits/K-1/packs", Some("{}"), 400, "bad-request") },
];

#[test]
fn every_error_is_a_problem() {
    let kits = two_kits();
    for case in CASES {
        let answer = kits.server.send(case.method, case.path, &kits.publisher, case.headers, case.body);
        let shown = format!("{} {}", case.method, case.path);
        assert_eq!(answer.status, case.status, "{shown}: {answer:?}");
        if case.status == 405 {
            assert!(answer.header("allow").contains("GET"), "{shown}");
        }
        answer.problem(case.status, case.kind);
    }
}

#[test]
fn a_body_has_a_limit() {
    let kits = two_kits();
    let large = format!("\"{}\"", "x".repeat(8 * 1024 * 1024));
    for headers in [&[][..], &[("transfer-encoding", "chunked")][..]] {
        let path = "/v1/designs/frame/draft";
        kits.server.send("PUT", path, &kits.publisher, headers, Some(&large)).problem(413, "too-large");
    }
}

#[test]
fn each_field_that_will_not_do_is_named_by_its_pointer() {
    let kits = two_kits();
    let refused = |path: &str, body: serde_json::Value| -> BTreeSet<String> {
        let problem = kits.server.post(path, &kits.publisher, &body).problem(422, "invalid-request");
        let errors = problem["errors"].as_array().unwrap().iter();
        errors.map(|error| error["pointer"].as_str().unwrap().to_owned()).collect()
    };
    let pointers = |given: &[&str]| -> BTreeSet<String> { given.iter().map(|pointer| (*pointer).to_owned()).collect() };
    let kit = json!({
        "serial": "k 1", "design": "frame", "revision": "A",
        "customer": {"name": " ", "email": "nobody"}
    });
    assert_eq!(refused("/v1/kits", kit), pointers(&["/serial", "/customer/name", "/customer/email"]));
    let kit = json!({"serial": "K-3", "design": "frame", "revision": "A", "customer": {"name": 5, "email": "a@b"}});
    assert_eq!(refused("/v1/kits", kit), pointers(&["/customer/name"]));
    let pack = json!({"paper": "a9"});
    assert_eq!(refused("/v1/kits/K-1/packs", pack), pointers(&["/paper"]));
    let design = json!({"id": "UPPER", "name": "x"});
    assert_eq!(refused("/v1/designs", design), pointers(&["/id"]));
}

#[test]
fn every_kind_of_problem_has_a_page() {
    let server = Server::start();
    let list = server.get("/problems", "").expect(200);
    let text = String::from_utf8(list.body).unwrap();
    let pages: Vec<&str> = text
        .split("href=\"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .filter(|page| page.starts_with("/problems/"))
        .collect();
    assert!(pages.len() > 20, "{pages:?}");
    for page in pages {
        let answer = server.get(page, "").expect(200);
        assert!(answer.header("content-type").starts_with("text/html"));
    }
}

#[test]
fn a_request_keeps_the_id_it_came_with() {
    let server = Server::start();
    let given = [("x-request-id", "job-17.a")];
    let answer = server.send("GET", "/v1/kits", "", &given, None);
    assert_eq!(answer.header("x-request-id"), "job-17.a");
    let strange = [("x-request-id", "a b\"c")];
    let answer = server.send("GET", "/v1/kits", "", &strange, None);
    assert_ne!(answer.header("x-request-id"), "a b\"c");
}

#[test]
fn pages_need_no_network_and_no_script_from_elsewhere() {
    let server = Server::start();
    for page in ["/", "/docs/", "/problems", "/docs/swagger-initializer.js"] {
        let answer = server.get(page, "").expect(200);
        let policy = answer.header("content-security-policy").to_owned();
        assert!(policy.contains("frame-ancestors 'none'"), "{policy}");
        let text = String::from_utf8(answer.body).unwrap();
        for outside in ["src=\"http", "href=\"http", "src=\"//", "@import"] {
            assert!(!text.contains(outside), "{page} loads {outside}");
        }
    }
    let docs = server.get("/docs", "");
    assert_eq!((docs.status, docs.header("location")), (303, "/docs/"));
}

#[test]
fn a_refusal_is_told_even_to_one_who_is_still_sending() {
    let server = Server::start();
    let large = format!("\"{}\"", "x".repeat(4 * 1024 * 1024));
    for headers in [&[][..], &[("transfer-encoding", "chunked")][..]] {
        for _ in 0..3 {
            server.send("POST", "/v1/joint", "", headers, Some(&large)).problem(401, "token-needed");
        }
    }
}
