//! Several processes on one database of PostgreSQL, and why there is only one on SQLite.

use crate::fixtures::{create_design, frame, publish, put_draft, two_kits, two_kits_on};
use crate::place::{Place, on_postgres};
use crate::server::{Answer, Server, run_on};
use data_encoding::HEXLOWER;
use serde_json::Value;
use sha2::{Digest, Sha256};
use std::collections::BTreeSet;
use std::sync::Arc;
use std::thread;

#[test]
fn a_second_process_on_one_data_directory_refuses_to_start() {
    if on_postgres() {
        return;
    }
    let server = Server::start();
    let second = run_on(&server.data, &["serve", "--listen", "127.0.0.1:0", "--metrics-listen", "off"]);
    assert_eq!(second.status.code(), Some(1));
    let said = String::from_utf8_lossy(&second.stderr);
    assert!(said.contains("another matchmark process uses this data directory"), "{said}");
    server.get("/readyz", "").expect(200);
}

#[test]
fn processes_that_start_together_bring_the_schema_in_once() {
    if !on_postgres() {
        return;
    }
    let place = Arc::new(Place::new());
    let printed: Vec<String> = thread::scope(|scope| {
        let starts: Vec<_> =
            (0..4).map(|_| scope.spawn(|| Server::start_in(Arc::clone(&place)).printed.clone())).collect();
        starts.into_iter().map(|start| start.join().unwrap()).collect()
    });
    let tokens = printed.iter().filter(|printed| printed.contains("Publisher token")).count();
    assert_eq!(tokens, 1, "one first token for all");
}

/// Two processes on one place.
fn two(first: Server) -> [Server; 2] {
    let second = Server::start_in(Arc::clone(&first.data));
    [first, second]
}

#[test]
fn two_processes_that_race_for_two_hundred_revisions_give_letters_in_a_row_and_one_chain() {
    if !on_postgres() {
        return;
    }
    let first = Server::start();
    let publisher = first.publisher();
    create_design(&first, &publisher, "frame");
    let servers = two(first);
    let mut letters = Vec::new();
    for race in 0..200 {
        let etag = put_draft(&servers[race % 2], &publisher, "frame", &frame(900 + u32::try_from(race).unwrap()));
        let answers: Vec<Answer> = thread::scope(|scope| {
            let calls = servers.each_ref().map(|server| scope.spawn(|| publish(server, &publisher, "frame", &etag)));
            calls.into_iter().map(|call| call.join().unwrap()).collect()
        });
        let (won, lost): (Vec<&Answer>, Vec<&Answer>) = answers.iter().partition(|answer| answer.status == 201);
        assert_eq!(won.len(), 1, "{answers:?}");
        // The draft is what was published a moment ago.
        assert_eq!(lost[0].json()["type"], "/problems/nothing-changed");
        letters.push(won[0].json()["letter"].as_str().unwrap().to_owned());
    }
    assert_eq!(letters.iter().collect::<BTreeSet<_>>().len(), 200, "a letter was given twice");

    let listed = servers[1].get("/v1/designs/frame/revisions", &publisher).expect(200).json();
    let revisions = listed["revisions"].as_array().unwrap();
    assert_eq!(revisions.len(), letters.len());
    let mut chain = String::new();
    for (index, revision) in revisions.iter().enumerate() {
        let text = |field: &str| revision[field].as_str().unwrap_or_else(|| panic!("no {field} in {revision}"));
        assert_eq!(revision["number"], index + 1);
        assert_eq!(text("letter"), letters[index]);
        assert_eq!(text("previous_chain"), chain);
        let date = &text("published_at")[..10];
        let facts = format!("matchmark-revision/1\n{chain}\n{}\n{}\n{date}\n", text("letter"), text("document_sha256"));
        chain = HEXLOWER.encode(&Sha256::digest(facts));
        assert_eq!(text("chain"), chain);
    }
}

#[test]
fn five_hundred_calls_with_one_key_over_two_processes_issue_one_pack() {
    // All of them come from this machine.
    let many = ["--connections-per-address", "800"];
    let kits = two_kits_on(Server::start_with(&many));
    let publisher = kits.publisher.clone();
    let second = on_postgres().then(|| Server::start_in_with(Arc::clone(&kits.server.data), &many));
    let servers: Vec<Server> = std::iter::once(kits.server).chain(second).collect();
    let packs: Vec<Value> = thread::scope(|scope| {
        let calls: Vec<_> = (0..500)
            .map(|call| {
                let server = &servers[call % servers.len()];
                let issue = || {
                    let key = [("idempotency-key", "just-one")];
                    server.send("POST", "/v1/kits/K-1/packs", &publisher, &key, Some("{}")).expect(201).json()
                };
                thread::Builder::new().stack_size(1 << 19).spawn_scoped(scope, issue).unwrap()
            })
            .collect();
        calls.into_iter().map(|call| call.join().unwrap()).collect()
    });
    assert_eq!(packs[0]["number"], 2);
    assert!(packs.iter().all(|pack| *pack == packs[0]));
    let listed = servers[0].get("/v1/kits/K-1/packs", &publisher).json();
    assert_eq!(listed["packs"].as_array().unwrap().len(), 2);
}

#[test]
fn a_token_revoked_on_one_process_is_none_on_the_other() {
    if !on_postgres() {
        return;
    }
    let kits = two_kits();
    let servers = two(kits.server);
    servers[1].get("/v1/kits/K-1", &kits.first).expect(200);
    let tokens = servers[0].get("/v1/tokens", &kits.publisher).expect(200).json();
    let of_kit = tokens["tokens"].as_array().unwrap().iter().find(|token| token["kit"] == "K-1").unwrap();
    let path = format!("/v1/tokens/{}", of_kit["id"].as_str().unwrap());
    servers[0].send("DELETE", &path, &kits.publisher, &[], None).expect(204);
    servers[1].get("/v1/kits/K-1", &kits.first).problem(401, "token-needed");
}
