//! Running it: metrics, readiness, the log, callers behind a proxy, and the end.

use crate::fixtures::two_kits;
use crate::place::{Place, on_postgres};
use crate::server::{Server, binary, run_on};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::process::{Command, Stdio};
use std::sync::Arc;

/// Sends bytes and returns all that comes back.
fn exchange(address: &str, request: &str) -> String {
    let mut stream = TcpStream::connect(address).unwrap();
    stream.write_all(request.as_bytes()).unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    answer
}

fn fetch(address: &str, path: &str) -> String {
    exchange(address, &format!("GET {path} HTTP/1.1\r\nHost: here\r\nConnection: close\r\n\r\n"))
}

/// A series with its labels in order of name, `le` last.
fn ordered(name: &str) -> String {
    let Some((name, labels)) = name.split_once('{') else { return name.to_owned() };
    let mut labels: Vec<&str> = labels.trim_end_matches('}').split(',').collect();
    labels.sort_by_key(|label| (label.starts_with("le="), *label));
    format!("{name}{{{}}}", labels.join(","))
}

/// Every series of a text in the format of OpenMetrics, read by its rules; labels stand in order of name, `le` last.
fn series(answer: &str) -> BTreeMap<String, f64> {
    let (head, text) = answer.split_once("\r\n\r\n").unwrap();
    assert!(head.to_lowercase().contains("content-type: application/openmetrics-text; version=1.0.0"), "{head}");
    let mut typed = Vec::new();
    let mut found = BTreeMap::new();
    for line in text.lines() {
        if let Some(rest) = line.strip_prefix("# TYPE ") {
            let (name, kind) = rest.split_once(' ').unwrap();
            assert!(["counter", "gauge", "histogram"].contains(&kind), "{line}");
            typed.push(name.to_owned());
        } else if !line.starts_with("# HELP ") && line != "# EOF" {
            let (name, value) = line.rsplit_once(' ').unwrap();
            assert!(typed.iter().any(|typed| name.starts_with(typed)), "{line} has no type");
            let value = if value == "+Inf" { f64::INFINITY } else { value.parse().unwrap() };
            assert!(found.insert(ordered(name), value).is_none(), "{name} is there twice");
        }
    }
    assert!(text.ends_with("# EOF\n"), "it has no end");
    found
}

#[test]
fn metrics_count_requests_packs_and_downloads_on_a_listener_of_their_own() {
    let kits = two_kits();
    let server = &kits.server;
    for _ in 0..3 {
        server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200);
    }
    server.get("/v1/kits/K-2", &kits.first).expect(404);
    let found = series(&fetch(server.metrics_address(), "/metrics"));
    let count = |name: &str| found.get(name).copied().unwrap_or_else(|| panic!("{name} is not in {found:#?}"));
    assert_eq!(count("matchmark_packs_issued_total"), 2.0);
    assert_eq!(count("matchmark_pack_downloads_total"), 3.0);
    assert_eq!(count("matchmark_pack_drawing_seconds_count"), 2.0);
    let file = "/v1/kits/{serial}/packs/{number}/file";
    let requests = format!("matchmark_http_requests_total{{method=\"GET\",route=\"{file}\",status=\"200\"}}");
    assert_eq!(count(&requests), 3.0);
    assert_eq!(count(&format!("matchmark_http_request_seconds_count{{route=\"{file}\"}}")), 3.0);
    assert_eq!(count(&format!("matchmark_http_request_seconds_bucket{{route=\"{file}\",le=\"+Inf\"}}")), 3.0);
    assert_eq!(count("matchmark_http_requests_total{method=\"GET\",route=\"/v1/kits/{serial}\",status=\"404\"}"), 1.0);
    let open: f64 = ["idle", "busy"]
        .map(|state| count(&format!("matchmark_database_connections{{purpose=\"write\",state=\"{state}\"}}")))
        .iter()
        .sum();
    assert!(open >= 1.0);
    server.get("/metrics", &kits.publisher).expect(404);
}

#[test]
fn made_up_addresses_and_methods_make_no_new_series() {
    let server = Server::start();
    let count = || series(&fetch(server.metrics_address(), "/metrics")).len();
    let ask = |number: u32| {
        let request = format!(
            "BREW{number} /v1/kits/K-{number} HTTP/1.1\r\nHost: h\r\n\r\nGET /no/{number} HTTP/1.1\r\nHost: h\r\nConnection: close\r\n\r\n"
        );
        exchange(server.address(), &request);
    };
    ask(0);
    let before = count();
    (1..50).for_each(ask);
    assert_eq!(count(), before);
}

#[test]
fn readiness_follows_what_the_service_needs() {
    let kits = two_kits();
    let data = Arc::clone(&kits.server.data);
    kits.server.get("/readyz", "").expect(200);
    let check = ["healthcheck", "--listen", kits.server.address()];
    assert_eq!(run_on(&data, &check).status.code(), Some(0));
    let broken = if on_postgres() {
        "ALTER TABLE probe RENAME TO probe_gone"
    } else {
        "DELETE FROM _sqlx_migrations WHERE version = 10"
    };
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    runtime.block_on(async { data.open().await.execute(broken).await.unwrap() });
    // A good answer stands for a moment.
    let refused = (0..50).any(|_| {
        std::thread::sleep(std::time::Duration::from_millis(100));
        kits.server.get("/readyz", "").status == 503
    });
    assert!(refused, "it says it is ready without its schema");
    kits.server.get("/readyz", "").problem(503, "not-ready");
    kits.server.get("/healthz", "").expect(200);
    let refused = run_on(&data, &check);
    assert_eq!(refused.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&refused.stderr).contains("not ready"));
}

#[test]
fn a_request_in_hand_is_finished_and_no_other_begun_when_it_is_asked_to_stop() {
    let mut server = Server::start();
    let publisher = server.publisher();
    let body = json!({"id": "late", "name": "Late"}).to_string();
    let mut stream = TcpStream::connect(server.address()).unwrap();
    let head = format!(
        "POST /v1/designs HTTP/1.1\r\nHost: h\r\nAuthorization: Bearer {publisher}\r\nContent-Type: application/json\r\nContent-Length: {}\r\nExpect: 100-continue\r\n\r\n",
        body.len()
    );
    stream.write_all(head.as_bytes()).unwrap();
    // The handler has begun to read when it asks for the body.
    let mut go_on = [0; 25];
    stream.read_exact(&mut go_on).unwrap();
    assert!(go_on.starts_with(b"HTTP/1.1 100"));
    server.terminate();
    let refused = (0..100).any(|_| {
        std::thread::sleep(std::time::Duration::from_millis(20));
        TcpStream::connect(server.address()).is_err()
    });
    assert!(refused, "it still takes connections");
    stream.write_all(body.as_bytes()).unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    assert!(answer.starts_with("HTTP/1.1 201"), "{answer}");
    assert!(server.ended_well());
}

#[test]
fn the_log_is_one_object_a_line_and_holds_no_token() {
    let data = Place::new();
    // Into a file: a pipe that nobody reads yet would fill up.
    let log = tempfile::NamedTempFile::new().unwrap();
    let mut child = Command::new(binary())
        .args(["serve", "--listen", "127.0.0.1:0", "--metrics-listen", "off", "--log-format", "json", "--log", "debug"])
        .args(data.options())
        .env_remove("MATCHMARK_LOG")
        .envs(data.environment())
        .stdout(Stdio::piped())
        .stderr(log.reopen().unwrap())
        .spawn()
        .unwrap();
    let mut printed = String::new();
    let mut stdout = std::io::BufReader::new(child.stdout.take().unwrap());
    while !printed.contains("Listening on ") {
        std::io::BufRead::read_line(&mut stdout, &mut printed).unwrap();
    }
    let address = printed.split("http://").nth(1).unwrap().trim().to_owned();
    let token = printed.lines().next().unwrap().rsplit(' ').next().unwrap().to_owned();
    let request = format!(
        "GET /v1/designs?page_size=1 HTTP/1.1\r\nHost: h\r\nAuthorization: Bearer {token}\r\nX-Request-Id: find-me\r\nConnection: close\r\n\r\n"
    );
    let answer = exchange(&address, &request);
    assert!(Command::new("kill").args(["-TERM", &child.id().to_string()]).status().unwrap().success());
    let ended = child.wait().unwrap();
    assert!(answer.starts_with("HTTP/1.1 200"), "{answer}");
    assert!(ended.success());
    let log = std::fs::read_to_string(log.path()).unwrap();
    let lines: Vec<Value> = log.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    let answered = lines.iter().find(|line| line["id"] == "find-me").unwrap_or_else(|| panic!("{log}"));
    assert_eq!((&answered["path"], &answered["status"]), (&json!("/v1/designs"), &json!(200)));
    assert!(!log.contains(&token), "a token is in the log");
}

#[test]
fn sign_ins_are_counted_by_the_address_that_a_trusted_proxy_names() {
    let wrong = json!({"serial": "K-0", "access_code": "0000-0000-0000-0000"}).to_string();
    let tries = |server: &Server, from: &dyn Fn(u32) -> String| -> u16 {
        let last = (0..25).map(|number| {
            let said = [("x-forwarded-for", from(number))];
            let said = said.each_ref().map(|(name, value)| (*name, value.as_str()));
            let body = wrong.replace("K-0", &format!("K-{number}"));
            server.send("POST", "/v1/sign-in", "", &said, Some(&body)).status
        });
        last.last().unwrap()
    };
    let trusting = Server::start_with(&["--trusted-proxies", "127.0.0.0/8"]);
    assert_eq!(tries(&trusting, &|_| "203.0.113.1".to_owned()), 429, "one address that fails too often");
    assert_eq!(tries(&trusting, &|number| format!("198.51.100.{number}")), 401, "many addresses, once each");
    let doubting = Server::start();
    assert_eq!(tries(&doubting, &|number| format!("198.51.100.{number}")), 429, "a header that anyone can send");
}
