//! Packs issued beside everything else that can happen to their kit.

use crate::fixtures::{create_design, frame, new_kit, publish_document, put_draft, two_kits};
use crate::place::{Place, on_postgres};
use crate::server::{Server, run_on};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::sync::Arc;
use std::thread;
use std::time::{Duration, Instant};

const A: &str = include_str!("../../../server/demo/rev_a.json");
const B: &str = include_str!("../../../server/demo/rev_b.json");

/// The demo's two revisions under the id `frame`, which take a while to draw.
fn slow() -> (Server, String) {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    for document in [A, B] {
        let etag = put_draft(&server, &token, "frame", document);
        let found = server.get("/v1/designs/frame/draft/findings?all_choices=true", &token).expect(200).json();
        let codes: BTreeSet<&str> =
            found["findings"].as_array().unwrap().iter().map(|finding| finding["code"].as_str().unwrap()).collect();
        let body = json!({"change_note": "For a test.", "class": "recommended", "acknowledge": codes}).to_string();
        server.send("POST", "/v1/designs/frame/revisions", &token, &[("if-match", &etag)], Some(&body)).expect(201);
    }
    (server, token)
}

fn kit(server: &Server, token: &str, serial: &str) {
    server.post("/v1/kits", token, &new_kit(serial, "frame", "A")).expect(201);
    // So that both revisions are computed before it matters how long it takes.
    server.post(&format!("/v1/kits/{serial}/packs"), token, &json!({})).expect(201);
}

/// Everything that is printed in a pack.
fn texts(server: &Server, token: &str, serial: &str, number: &Value) -> String {
    let account = server.get(&format!("/v1/kits/{serial}/packs/{number}/manifest"), token).expect(200).json();
    account["pages"].as_array().unwrap().iter().map(|page| page["texts"].to_string()).collect()
}

fn packs(server: &Server, token: &str, serial: &str) -> Value {
    server.get(&format!("/v1/kits/{serial}/packs"), token).expect(200).json()
}

#[test]
fn a_pack_issued_while_its_kit_moves_is_of_the_revision_that_it_has_then_or_is_not_current() {
    let (server, token) = slow();
    let mut wrong = Vec::new();
    for round in 0..10 {
        let serial = format!("K-{round}");
        kit(&server, &token, &serial);
        let path = format!("/v1/kits/{serial}/packs");
        let (issued, moved) = thread::scope(|scope| {
            let issue = scope.spawn(|| {
                let pack = server.post(&path, &token, &json!({})).expect(201).json();
                (pack, Instant::now())
            });
            thread::sleep(Duration::from_millis(60 + 20 * round));
            let body = json!({"revision": "B", "reason": "For a test."});
            server.post(&format!("/v1/kits/{serial}/moves"), &token, &body).expect(201);
            let moved = Instant::now();
            (issue.join().unwrap(), moved)
        });
        let (pack, answered) = issued;
        // An answer that came after the kit had moved says what is so since.
        if answered > moved && pack["revision"] == "A" && pack["state"] == "current" {
            wrong.push(format!("round {round}: {} of A is current", pack["number"]));
        }
        let now = server.get(&format!("/v1/kits/{serial}/packs/{}", pack["number"]), &token).expect(200).json();
        let expected = if pack["revision"] == "B" { "current" } else { "superseded" };
        assert_eq!(now["state"], expected, "{now}");
    }
    assert!(wrong.is_empty(), "{} of 10: {wrong:?}", wrong.len());
}

#[test]
fn what_comes_while_a_pack_is_drawn_is_in_it_or_the_pack_says_that_it_is_not() {
    let (server, token) = slow();
    let mut wrong = Vec::new();
    for round in 0..6 {
        let serial = format!("K-{round}");
        kit(&server, &token, &serial);
        let pack = thread::scope(|scope| {
            let issue =
                scope.spawn(|| server.post(&format!("/v1/kits/{serial}/packs"), &token, &json!({})).expect(201).json());
            thread::sleep(Duration::from_millis(60 + 30 * round));
            let value = json!({"hoop_spread": 1124});
            server.post(&format!("/v1/kits/{serial}/measurements"), &token, &value).expect(200);
            issue.join().unwrap()
        });
        let printed = texts(&server, &token, &serial, &pack["number"]);
        let now = server.get(&format!("/v1/kits/{serial}/packs/{}", pack["number"]), &token).expect(200).json();
        let expected = if printed.contains("measured hoop_spread: 1124 mm") { "current" } else { "outdated" };
        if now["state"] != expected {
            wrong.push(format!("round {round}: {} instead of {expected}", now["state"]));
        }
    }
    let serial = "K-0";
    let pack = thread::scope(|scope| {
        let issue =
            scope.spawn(|| server.post(&format!("/v1/kits/{serial}/packs"), &token, &json!({})).expect(201).json());
        thread::sleep(Duration::from_millis(60));
        let notice = json!({"from": "A", "to": "B", "class": "mandatory", "text": "Read this before you cut."});
        server.post("/v1/designs/frame/notices", &token, &notice).expect(201);
        issue.join().unwrap()
    });
    let now = server.get(&format!("/v1/kits/{serial}/packs/{}", pack["number"]), &token).expect(200).json();
    if now["state"] != "notice-first" {
        wrong.push(format!("notice: {}", now["state"]));
    }
    let printed = texts(&server, &token, serial, &pack["number"]);
    let says = now["words"].as_str().is_some_and(|words| words.contains("was drawn earlier"));
    assert!(printed.contains("Read this before you cut.") != says, "{now}");
    assert!(wrong.is_empty(), "{wrong:?}");
}

#[test]
fn sixty_packs_of_one_kit_by_four_callers_are_all_issued() {
    let kits = two_kits();
    let (publisher, first) = (kits.publisher.clone(), kits.first.clone());
    let mut servers = vec![kits.server];
    if on_postgres() {
        servers.push(Server::start_in(Arc::clone(&servers[0].data)));
    }
    let statuses: Vec<u16> = thread::scope(|scope| {
        let callers: Vec<_> = (0..4)
            .map(|caller| {
                let (server, token) = (&servers[caller % servers.len()], &publisher);
                scope.spawn(move || -> Vec<u16> {
                    let issue = |_| server.post("/v1/kits/K-1/packs", token, &json!({})).status;
                    (0..15).map(issue).collect()
                })
            })
            .collect();
        callers.into_iter().flat_map(|caller| caller.join().unwrap()).collect()
    });
    let refused = statuses.iter().filter(|status| **status != 201).count();
    assert_eq!(refused, 0, "{refused} of 60: {statuses:?}");
    let listed = packs(&servers[0], &first, "K-1");
    let mut numbers: Vec<i64> =
        listed["packs"].as_array().unwrap().iter().map(|pack| pack["number"].as_i64().unwrap()).collect();
    assert_eq!(numbers.len(), 61);
    numbers.extend(listed["void"].as_array().unwrap().iter().map(|void| void["number"].as_i64().unwrap()));
    numbers.sort_unstable();
    assert_eq!(numbers, (1..=numbers.len() as i64).collect::<Vec<_>>(), "no gap");
    let found = run_on(&servers[0].data, &["verify"]);
    assert!(found.status.success(), "{}", String::from_utf8_lossy(&found.stdout));
}

/// The numbers that are taken and have no pack yet.
async fn taken(place: &Place) -> Vec<String> {
    place.open().await.lines("SELECT kit || ' ' || number FROM pack_numbers WHERE void_at IS NULL").await
}

async fn until_taken(place: &Place) {
    let begun = Instant::now();
    while taken(place).await.is_empty() {
        assert!(begun.elapsed() < Duration::from_secs(60), "no number was taken");
        tokio::time::sleep(Duration::from_millis(5)).await;
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn the_number_of_an_issue_that_failed_is_void_and_never_used_again() {
    let (server, token) = slow();
    kit(&server, &token, "K-1");
    let issue = |server: &Server| {
        let key = [("idempotency-key", "the-second")];
        server.send("POST", "/v1/kits/K-1/packs", &token, &key, Some("{}"))
    };
    let refused = {
        let (server, issue) = (&server, &issue);
        thread::scope(|scope| {
            let call = scope.spawn(move || issue(server));
            tokio::task::block_in_place(|| {
                tokio::runtime::Handle::current().block_on(until_taken(&server.data));
            });
            let hold = json!({"reason": "Not paid.", "ask": "The supplier."});
            server.post("/v1/kits/K-1/holds", &token, &hold).expect(201);
            call.join().unwrap()
        })
    };
    refused.problem(409, "kit-on-hold");
    let listed = packs(&server, &token, "K-1");
    assert_eq!((listed["packs"].as_array().unwrap().len(), &listed["void"][0]["number"]), (1, &json!(2)));
    let words = listed["void"][0]["words"].as_str().unwrap();
    assert!(words.starts_with("Void: pack 2 of kit K-1"), "{words}");
    for path in ["/v1/kits/K-1/packs/2", "/v1/kits/K-1/packs/2/file", "/v1/kits/K-1/packs/2/manifest"] {
        server.get(path, &token).problem(404, "void-pack");
    }
    let desk = crate::browser::Browser::with_token(&server, &token);
    desk.get("/kits/K-1").expect(200).says(words);
    server.post("/v1/kits/K-1/holds/1/lifting", &token, &json!({"reason": "Paid."})).expect(200);
    // The same call again is a new attempt: it made nothing.
    assert_eq!(issue(&server).expect(201).json()["number"], 3);
    let data = server.stop();
    let mut records = data.open().await;
    for attack in [
        "UPDATE pack_numbers SET void_at = NULL",
        "DELETE FROM pack_numbers",
        "INSERT INTO packs SELECT kit, 2, design, revision, paper, sha256, size, engine, issued_at, issued_by, print, pages, manifest_sha256, since_revision, only_changes, drawn_with FROM packs WHERE number = 1",
    ] {
        let error = records.execute(attack).await.expect_err(attack);
        assert!(error.to_string().contains("never"), "{attack}: {error}");
    }
    let acts = records.lines("SELECT subject FROM audit WHERE action = 'void-pack'").await;
    assert_eq!(acts, ["kits/K-1/packs/2"]);
    drop(records);
    let found = run_on(&data, &["verify"]);
    assert!(found.status.success(), "{}", String::from_utf8_lossy(&found.stdout));
}

#[tokio::test(flavor = "multi_thread")]
async fn a_crash_while_a_pack_is_drawn_neither_blocks_a_number_nor_loses_it() {
    let (server, token) = slow();
    kit(&server, &token, "K-1");
    let issue = |server: &Server, key: &str| {
        let key = [("idempotency-key", key)];
        server.try_send("POST", "/v1/kits/K-1/packs", &token, &key, Some("{}"))
    };
    let cut = |server: Server, key: &'static str| {
        thread::scope(|scope| {
            let call = scope.spawn(|| issue(&server, key).is_err());
            tokio::task::block_in_place(|| {
                tokio::runtime::Handle::current().block_on(until_taken(&server.data));
            });
            server.kill_now();
            assert!(call.join().unwrap(), "the drawing was over before the process died");
        });
        Server::start_in(server.kill())
    };
    let server = cut(server, "cut-off");
    assert_eq!(packs(&server, &token, "K-1")["void"], json!([]), "it may still be recorded");
    // Another call goes on with the next number, and the same call takes its own up again.
    assert_eq!(issue(&server, "another").unwrap().expect(201).json()["number"], 3);
    let again = issue(&server, "cut-off").unwrap().expect(201).json();
    assert_eq!(again["number"], 4, "a number below one that is recorded is void");
    assert_eq!(packs(&server, &token, "K-1")["void"][0]["number"], 2);

    let server = cut(server, "cut-off-too");
    let again = issue(&server, "cut-off-too").unwrap().expect(201).json();
    assert_eq!(again["number"], 5, "nothing came between: it has its number still");

    // One that nobody asks for again is void when its time is over, whoever looks.
    let server = cut(server, "never-again");
    let data = server.stop();
    let late = "UPDATE pack_numbers SET good_until = '2026-01-01T00:00:00.000Z' WHERE void_at IS NULL";
    data.open().await.execute(late).await.unwrap();
    let server = Server::start_in(data);
    let void = packs(&server, &token, "K-1")["void"].clone();
    let numbers: Vec<&Value> = void.as_array().unwrap().iter().map(|void| &void["number"]).collect();
    assert_eq!(numbers, [2, 6]);
    assert_eq!(issue(&server, "the-last").unwrap().expect(201).json()["number"], 7);
    let acts =
        server.data.open().await.lines("SELECT subject FROM audit WHERE action = 'void-pack' ORDER BY number").await;
    assert_eq!(acts, ["kits/K-1/packs/2", "kits/K-1/packs/6"]);
    let found = run_on(&server.data, &["verify"]);
    assert!(found.status.success(), "{}", String::from_utf8_lossy(&found.stdout));
}

#[test]
fn a_value_measured_while_its_kit_moves_is_good_in_the_revision_that_it_has_then() {
    // Heights are gauges of A alone, so that a kit with one cannot go to B, and one on B cannot have one.
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    let with_gauge = frame(900).replacen(
        "\"members\"",
        "\"gauges\": {\"height\": {\"what\": \"Post\", \"nominal\": 900, \"least\": 890, \"most\": 910, \"moves\": {\"b.L\": [0, 0, 1]}}}, \"members\"",
        1,
    );
    publish_document(&server, &token, "frame", &with_gauge);
    publish_document(&server, &token, "frame", &frame(904));
    for round in 0..10 {
        let serial = format!("K-{round}");
        server.post("/v1/kits", &token, &new_kit(&serial, "frame", "A")).expect(201);
        let (measured, moved) = thread::scope(|scope| {
            let measure = scope.spawn(|| {
                server.post(&format!("/v1/kits/{serial}/measurements"), &token, &json!({"height": 905})).status
            });
            let body = json!({"revision": "B", "reason": "For a test."});
            let moved = server.post(&format!("/v1/kits/{serial}/moves"), &token, &body).status;
            (measure.join().unwrap(), moved)
        });
        assert!(matches!((measured, moved), (200, 422) | (422, 201)), "round {round}: {measured} and {moved}");
    }
}
