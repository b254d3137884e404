//! SIGKILL at any moment while clients work. `MATCHMARK_KILLS` says how often.

use super::{all, wanted};
use crate::fixtures::{create_design, frame, publish_document};
use crate::place::Place;
use crate::server::{Answer, Server, run_on};
use serde_json::{Value, json};
use std::sync::Arc;
use std::thread;
use std::time::Duration;

const CLIENTS: usize = 4;

/// A call with a key of its own, and its answer if it got one.
struct Call {
    path: String,
    key: String,
    body: String,
    answer: Option<Value>,
}

impl Call {
    fn new(path: String, key: String, body: &Value) -> Self {
        Self { path, key, body: body.to_string(), answer: None }
    }

    /// Sends it; false when there was nobody to answer.
    fn send(&mut self, server: &Server, token: &str) -> bool {
        let headers = [("idempotency-key", &*self.key), ("if-match", "*")];
        let answer = server.try_send("POST", &self.path, token, &headers, Some(&self.body));
        self.answer = answer.ok().map(|answer: Answer| answer.expect(201).json());
        self.answer.is_some()
    }
}

/// What one client does until nobody answers any more: kits with a pack each, and revisions of a design of its own.
fn work(server: &Server, token: &str, client: usize, round: usize) -> Vec<Call> {
    let mut calls = Vec::new();
    for step in 0.. {
        let name = format!("{client}-{round}-{step}");
        let serial = format!("K-{name}");
        let customer = json!({"name": "A. Builder", "email": "builder@example.com"});
        let kit = json!({"serial": serial, "design": "frame", "revision": "A", "customer": customer});
        let draft = format!("/v1/designs/frame-{client}/draft");
        let height = 900 + u32::try_from(round * 1000 + step).unwrap();
        let publish = json!({"change_note": name, "class": "optional"});
        for mut call in [
            Call::new("/v1/kits".to_owned(), format!("kit-{name}"), &kit),
            Call::new(format!("/v1/kits/{serial}/packs"), format!("pack-{name}"), &json!({})),
            Call::new(format!("/v1/designs/frame-{client}/revisions"), format!("publish-{name}"), &publish),
        ] {
            let any = [("if-match", "*")];
            let draft_there = !call.path.ends_with("/revisions")
                || server.try_send("PUT", &draft, token, &any, Some(&frame(height))).is_ok();
            let answered = draft_there && call.send(server, token);
            if draft_there {
                calls.push(call);
            }
            if !answered {
                return calls;
            }
        }
    }
    calls
}

/// Sent again, a call that was answered gets the same answer as far as that does not hang on what came since, and one that was not
/// gets its first.
fn repeat(server: &Server, token: &str, calls: &mut [Call]) {
    for call in calls {
        let before = call.answer.take();
        assert!(call.send(server, token), "{}", call.path);
        if let Some(before) = before {
            let lasting = |answer: &Value| {
                let mut answer = answer.clone();
                // A revision is superseded by those after it.
                answer.as_object_mut().unwrap().remove("state");
                answer
            };
            assert_eq!(call.answer.as_ref().map(lasting), Some(lasting(&before)), "{} {}", call.path, call.key);
        }
    }
}

#[test]
fn what_was_acknowledged_is_there_after_a_kill_and_what_was_not_is_whole_or_absent() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    publish_document(&server, &token, "frame", &frame(900));
    for client in 0..CLIENTS {
        let design = format!("frame-{client}");
        create_design(&server, &token, &design);
        publish_document(&server, &token, &design, &frame(899));
    }
    let mut place: Arc<Place> = server.stop();
    let (mut acknowledged, mut calls_made) = (0, Vec::new());
    for round in 0..wanted("MATCHMARK_KILLS", 4) {
        let server = Server::start_in(Arc::clone(&place));
        let mut calls: Vec<Call> = thread::scope(|scope| {
            let (server, token) = (&server, &token);
            let clients: Vec<_> =
                (0..CLIENTS).map(|client| scope.spawn(move || work(server, token, client, round))).collect();
            // Anywhere from the first calls to the middle of many.
            thread::sleep(Duration::from_millis(150 + 370 * (round as u64 % 5)));
            server.kill_now();
            clients.into_iter().flat_map(|client| client.join().unwrap()).collect()
        });
        place = server.kill();
        acknowledged += calls.iter().filter(|call| call.answer.is_some()).count();
        let server = Server::start_in(Arc::clone(&place));
        repeat(&server, &token, &mut calls);
        calls_made.append(&mut calls);
        place = server.kill();
    }
    assert!(acknowledged > 3 * CLIENTS, "{acknowledged} acknowledgements");

    let server = Server::start_in(Arc::clone(&place));
    let kits = all(&server, &token, "/v1/kits", "kits");
    let made = |end: &str| calls_made.iter().filter(|call| call.path.ends_with(end)).count();
    assert_eq!(kits.len(), made("/kits"));
    for call in &calls_made {
        let answer = call.answer.as_ref().unwrap();
        if call.path.ends_with("/packs") {
            let kit = answer["kit"].as_str().unwrap();
            let packs = server.get(&format!("/v1/kits/{kit}/packs"), &token).expect(200).json();
            assert_eq!(packs["packs"].as_array().unwrap().len(), 1, "{kit}");
            assert_eq!(packs["packs"][0]["number"], answer["number"], "{kit}");
            server.get(&format!("/v1/kits/{kit}/packs/{}/file", answer["number"]), &token).expect(200);
        }
    }
    let mut published = 0;
    for client in 0..CLIENTS {
        let list = server.get(&format!("/v1/designs/frame-{client}/revisions"), &token).expect(200).json();
        let numbers: Vec<i64> =
            list["revisions"].as_array().unwrap().iter().map(|revision| revision["number"].as_i64().unwrap()).collect();
        assert_eq!(numbers, (1..=numbers.len() as i64).collect::<Vec<_>>());
        published += numbers.len() - 1;
    }
    assert_eq!(published, made("/revisions"));
    let found = run_on(&server.data, &["verify"]);
    assert!(found.status.success(), "{}", String::from_utf8_lossy(&found.stdout));
}
