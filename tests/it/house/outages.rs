//! The database or the bucket goes away while the service works, and comes back.

use crate::bucket::on_s3;
use crate::cable::Cable;
use crate::fixtures::{TwoKits, create_design, create_kit, frame, publish_document, two_kits_on};
use crate::place::{Place, on_postgres};
use crate::server::{Answer, Server};
use serde_json::{Value, json};
use std::io::{self, BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpListener};
use std::sync::Arc;
use std::time::Duration;
use std::{iter, thread};

/// Two kits with what can be pulled out; none where all is kept on this disk.
fn two_kits_over_a_cable() -> Option<(TwoKits, Cable)> {
    if !on_postgres() && !on_s3() {
        return None;
    }
    let (place, cable) = Place::over_a_cable();
    Some((two_kits_on(Server::start_in(Arc::new(place))), cable))
}

fn issue(kits: &TwoKits, serial: &str, key: &str) -> Answer {
    let path = format!("/v1/kits/{serial}/packs");
    kits.server.send("POST", &path, &kits.publisher, &[("idempotency-key", key)], Some("{}"))
}

/// What RFC 9110, section 15.6.4, wants of it: an answer that says when to come back.
fn is_away(answer: Answer) {
    assert_eq!(answer.header("retry-after"), "5");
    answer.problem(503, "store-away");
}

#[test]
fn while_a_store_is_away_callers_hear_of_it_and_when_it_is_back_all_goes_on() {
    let Some((kits, cable)) = two_kits_over_a_cable() else { return };
    let server = &kits.server;
    cable.pull();
    is_away(server.get("/v1/kits/K-1/packs/1/file", &kits.first));
    is_away(issue(&kits, "K-1", "once"));
    let ready = server.get("/readyz", "");
    assert_eq!(ready.header("retry-after"), "5");
    ready.problem(503, "not-ready");
    server.get("/healthz", "").expect(200);
    if on_s3() {
        server.get("/v1/kits/K-1", &kits.first).expect(200);
    } else {
        is_away(server.get("/v1/kits/K-1", &kits.first));
        is_away(server.post("/v1/sign-in", "", &json!({"serial": "K-1", "access_code": "0000-0000-0000-0000"})));
    }
    cable.plug_in();
    server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200);
    let pack = issue(&kits, "K-1", "once").expect(201).json();
    // While only the bucket was away a number was taken: it is void and never used again.
    assert_eq!(pack["number"], if on_s3() { 3 } else { 2 });
    assert_eq!(issue(&kits, "K-1", "once").expect(201).json(), pack);
    server.get("/readyz", "").expect(200);
}

/// A server that has gone refuses connections, which is no reason to wait as if it were busy.
#[test]
fn a_database_that_refuses_connections_is_away_and_not_busy() {
    if !on_postgres() || on_s3() {
        return;
    }
    let Some((kits, cable)) = two_kits_over_a_cable() else { return };
    let server = &kits.server;
    cable.refuse();
    is_away(server.get("/v1/kits/K-1", &kits.first));
    is_away(server.post("/v1/sign-in", "", &json!({"serial": "K-1", "access_code": "0000-0000-0000-0000"})));
    is_away(issue(&kits, "K-1", "once"));
    server.get("/readyz", "").problem(503, "not-ready");
    cable.plug_in();
    // Until the next connection comes through nothing is known of it.
    let back =
        iter::repeat_with(|| server.get("/v1/kits/K-1", &kits.first).status).take(100).any(|status| status == 200);
    assert!(back, "it is not found again");
    assert_eq!(issue(&kits, "K-1", "once").expect(201).json()["number"], 2);
}

/// An S3 endpoint that answers everything with this status and error.
fn closed_bucket(status: &'static str, code: &'static str) -> SocketAddr {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let address = listener.local_addr().unwrap();
    thread::spawn(move || {
        for stream in listener.incoming() {
            let Ok(mut stream) = stream else { return };
            thread::spawn(move || {
                let mut reader = BufReader::new(stream.try_clone().unwrap());
                let (mut line, mut length) = (String::new(), 0);
                while reader.read_line(&mut line).is_ok_and(|read| read > 2) {
                    let lower = line.to_ascii_lowercase();
                    if let Some(value) = lower.strip_prefix("content-length:") {
                        length = value.trim().parse().unwrap();
                    }
                    line.clear();
                }
                io::copy(&mut reader.take(length), &mut io::sink()).unwrap();
                let body = format!("<?xml version=\"1.0\"?><Error><Code>{code}</Code></Error>");
                let head = format!("HTTP/1.1 {status}\r\ncontent-type: application/xml\r\nconnection: close\r\n");
                // The client may have gone.
                let _ = write!(stream, "{head}content-length: {}\r\n\r\n{body}", body.len());
            });
        }
    });
    address
}

#[test]
fn a_bucket_that_lets_nobody_in_is_away() {
    if on_s3() {
        return;
    }
    for (status, code) in [
        ("403 Forbidden", "SignatureDoesNotMatch"),
        ("401 Unauthorized", "AccessDenied"),
        ("404 Not Found", "NoSuchBucket"),
    ] {
        let endpoint = format!("http://{}", closed_bucket(status, code));
        let folder = tempfile::tempdir().unwrap();
        let secret = folder.path().join("secret");
        std::fs::write(&secret, "wrong").unwrap();
        let bucket = ["--s3-bucket", "packs", "--s3-endpoint", &endpoint, "--s3-key-id", "wrong"];
        let server = Server::start_with(&[&bucket[..], &["--s3-secret-file", secret.to_str().unwrap()]].concat());
        let token = server.publisher();
        create_design(&server, &token, "frame");
        publish_document(&server, &token, "frame", &frame(900));
        create_kit(&server, &token, "K-1", "frame", "A");
        is_away(server.post("/v1/kits/K-1/packs", &token, &json!({})));
        server.get("/readyz", "").problem(503, "not-ready");
        let kit = server.get("/v1/kits/K-1", &token).expect(200).json();
        let erasure = format!("/v1/customers/{}/erasure", kit["customer_id"].as_str().unwrap());
        is_away(server.send("POST", &erasure, &token, &[], None));
    }
}

#[test]
fn a_job_that_meets_an_outage_waits_and_issues_every_pack() {
    let Some((kits, cable)) = two_kits_over_a_cable() else { return };
    let server = &kits.server;
    let serials: Vec<String> = (3..15).map(|number| format!("K-{number}")).collect();
    serials.iter().for_each(|serial| create_kit(server, &kits.publisher, serial, "frame", "A"));
    if on_s3() {
        // The job itself goes to the database, so that all of it meets the outage.
        cable.pull();
    }
    let path = "/v1/designs/frame/revisions/A/pack-jobs";
    let job = server.send("POST", path, &kits.publisher, &[("idempotency-key", "job")], Some("{}")).expect(202).json();
    cable.pull();
    thread::sleep(Duration::from_secs(3));
    cable.plug_in();
    let path = format!("/v1/pack-jobs/{}", job["number"]);
    let states = iter::repeat_with(|| {
        thread::sleep(Duration::from_millis(200));
        server.get(&path, &kits.publisher).expect(200).json()
    });
    let done: Value = states.take(300).find(|job| job.get("finished_at").is_some()).expect("the job never ends");
    assert_eq!(done["refused"], 0, "{done}");
    for serial in &serials {
        let packs = server.get(&format!("/v1/kits/{serial}/packs"), &kits.publisher).expect(200).json();
        assert_eq!(packs["packs"].as_array().unwrap().len(), 1, "{serial}");
    }
}

#[test]
fn a_start_waits_for_a_database_that_is_not_there_yet() {
    if !on_postgres() || on_s3() {
        return;
    }
    let (place, cable) = Place::over_a_cable();
    cable.pull();
    thread::scope(|scope| {
        let server = scope.spawn(|| Server::start_in(Arc::new(place)));
        thread::sleep(Duration::from_secs(2));
        cable.plug_in();
        server.join().unwrap().get("/readyz", "").expect(200);
    });
}
