//! What happened, told to other programs: each thing once, in order, with no person in it.

use crate::fixtures::{
    TwoKits, a_recall, builder_token, create_design, create_kit, frame, new_kit, publish_document, two_kits,
};
use crate::place::{Place, on_postgres};
use crate::server::{Server, run_on};
use crate::sinks::webhook;
use serde_json::{Value, json};
use std::io::Write;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// All events after one, asked for by `limit` at a time.
fn events_after(server: &Server, token: &str, after: i64, limit: usize) -> Vec<Value> {
    let (mut all, mut after) = (Vec::new(), after);
    loop {
        let path = format!("/v1/events?after={after}&limit={limit}");
        let mut answer = server.get(&path, token).expect(200).json();
        let Value::Array(events) = answer["events"].take() else { panic!("{answer}") };
        after = answer["next"].as_i64().unwrap();
        if events.is_empty() {
            return all;
        }
        assert!(events.len() <= limit);
        assert_eq!(events.last().unwrap()["id"], after);
        all.extend(events);
    }
}

/// Type and subject of each.
fn told(events: &[Value]) -> Vec<(&str, &str)> {
    events.iter().map(|event| (event["type"].as_str().unwrap(), event["subject"].as_str().unwrap())).collect()
}

fn newest(server: &Server, token: &str) -> i64 {
    events_after(server, token, 0, 1000).last().map_or(0, |event| event["id"].as_i64().unwrap())
}

#[test]
fn everything_that_happens_is_told_once_in_order_and_names_nobody() {
    let server = Server::start();
    let publisher = server.publisher();
    assert_eq!(server.get("/v1/events", &publisher).expect(200).json(), json!({"events": [], "next": 0}));
    create_design(&server, &publisher, "frame");
    publish_document(&server, &publisher, "frame", &frame(900));
    let key = [("idempotency-key", "k-1"), ("content-type", "application/json")];
    let kit = new_kit("K-1", "frame", "A").to_string();
    for _ in 0..2 {
        server.send("POST", "/v1/kits", &publisher, &key, Some(&kit)).expect(201);
    }
    // What is refused has not happened, nor has a file of kits of which one is refused.
    server.post("/v1/kits", &publisher, &new_kit("K-1", "frame", "A")).problem(409, "kit-exists");
    let csv = [("content-type", "text/csv")];
    let rows = |serials: [&str; 2]| {
        let line = |serial| format!("{serial},frame,A,Ada Mundy,ada@mail.example\n");
        format!("serial,design,revision,customer_name,customer_email\n{}", serials.map(line).concat())
    };
    server.send("POST", "/v1/kit-imports", &publisher, &csv, Some(&rows(["K-2", "K-1"]))).expect(422);
    server.send("POST", "/v1/kit-imports", &publisher, &csv, Some(&rows(["K-2", "K-3"]))).expect(201);
    for _ in 0..2 {
        server.send("POST", "/v1/kits/K-1/packs", &publisher, &key, Some("{}")).expect(201);
    }
    publish_document(&server, &publisher, "frame", &frame(904));
    let notice = json!({"from": "A", "to": "B", "class": "mandatory", "text": "Trim both posts."});
    server.post("/v1/designs/frame/notices", &publisher, &notice).expect(201);
    let builder = builder_token(&server, &publisher, "K-1");
    for step in ["acknowledgement", "acknowledgement", "completion", "completion", "acknowledgement"] {
        let path = format!("/v1/kits/K-1/notices/1/{step}");
        server.send("POST", &path, &builder, &[], None).expect(200);
    }
    server
        .post("/v1/kits/K-1/moves", &publisher, &json!({"revision": "B", "reason": "All parts replaced."}))
        .expect(201);
    for (step, body) in [
        ("withdrawal", json!({"reason": "Too low."})),
        ("reinstatement", json!({"reason": "Not too low."})),
        ("recall", a_recall()),
    ] {
        server.post(&format!("/v1/designs/frame/revisions/A/{step}"), &publisher, &body).expect(200);
    }
    for _ in 0..2 {
        server.send("POST", "/v1/kits/K-2/stop-sheets/A/acknowledgement", &publisher, &[], None).expect(200);
    }
    let all = events_after(&server, &publisher, 0, 1000);
    assert_eq!(
        told(&all),
        [
            ("revision-published", "/v1/designs/frame/revisions/A"),
            ("kit-registered", "/v1/kits/K-1"),
            ("kit-registered", "/v1/kits/K-2"),
            ("kit-registered", "/v1/kits/K-3"),
            ("pack-issued", "/v1/kits/K-1/packs/1"),
            ("revision-published", "/v1/designs/frame/revisions/B"),
            ("notice-raised", "/v1/designs/frame/notices/1"),
            ("notice-acknowledged", "/v1/kits/K-1/notices"),
            ("notice-done", "/v1/kits/K-1/notices"),
            ("kit-moved", "/v1/kits/K-1"),
            ("revision-withdrawn", "/v1/designs/frame/revisions/A"),
            ("revision-reinstated", "/v1/designs/frame/revisions/A"),
            ("revision-recalled", "/v1/designs/frame/revisions/A"),
            ("recall-acknowledged", "/v1/kits/K-2/stop-sheets/A"),
        ]
    );
    let pack = server.get("/v1/kits/K-1/packs/1", &publisher).expect(200).json();
    assert_eq!(
        all[4]["facts"],
        json!({"design": "frame", "revision": "A", "kit": "K-1", "pack": 1, "sha256": pack["sha256"]})
    );
    assert_eq!(
        all[6]["facts"],
        json!({"design": "frame", "from": "A", "to": "B", "notice": 1, "class": "mandatory", "kits": 3})
    );
    assert_eq!(all[9]["facts"], json!({"design": "frame", "revision": "B", "kit": "K-1", "from": "A"}));
    // Three have a pack or the revision: one moved, with a pack of it.
    assert_eq!(all[12]["facts"], json!({"design": "frame", "revision": "A", "kits": 3}));
    assert!(all.is_sorted_by(|a, b| a["id"].as_i64() < b["id"].as_i64()), "{all:?}");
    for event in &all {
        server.get(event["subject"].as_str().unwrap(), &publisher).expect(200);
    }
    assert_eq!(events_after(&server, &publisher, 0, 3), all);
    let text = json!(all).to_string();
    assert!(!text.contains('@') && !text.contains("Mundy") && !text.contains("A. Builder"), "{text}");
    // A customer who is erased leaves nothing to erase here.
    let kit = server.get("/v1/kits/K-2", &publisher).expect(200).json();
    let erase = format!("/v1/customers/{}/erasure", kit["customer_id"].as_str().unwrap());
    server.post(&erase, &publisher, &json!({})).expect(200);
    assert_eq!(events_after(&server, &publisher, 0, 1000), all);
    let found = run_on(&server.data, &["verify"]);
    assert!(found.status.success(), "{}", String::from_utf8_lossy(&found.stdout));
}

#[test]
fn a_measured_value_is_told_by_its_gauge() {
    let server = Server::demo();
    let publisher = server.printed.lines().find_map(|line| line.trim().strip_prefix("publisher ")).unwrap().trim();
    let before = newest(&server, publisher);
    let kit = server.get("/v1/kits?design=fenrunner-two&page_size=1", publisher).expect(200).json()["kits"][0].clone();
    let serial = kit["serial"].as_str().unwrap();
    let letter = kit["revision"].as_str().unwrap();
    let path = format!("/v1/designs/fenrunner-two/revisions/{letter}/document");
    let document = server.get(&path, publisher).expect(200).json();
    let (gauge, limits) = document["gauges"].as_object().unwrap().iter().next().unwrap();
    let nominal = limits["nominal"].as_f64().unwrap();
    let path = format!("/v1/kits/{serial}/measurements");
    server.post(&path, publisher, &json!({})).expect(200);
    server.post(&path, publisher, &json!({gauge: nominal})).expect(200);
    server.post(&path, publisher, &json!({gauge: null})).expect(200);
    let new = events_after(&server, publisher, before, 10);
    assert_eq!(told(&new), [("kit-measured", &*path); 2]);
    assert_eq!(new[0]["facts"]["gauges"], json!([gauge]));
}

/// The job once it is over.
fn job_ended(server: &Server, token: &str, place: &str) {
    let begun = Instant::now();
    while server.get(place, token).expect(200).json()["finished_at"].is_null() {
        assert!(begun.elapsed() < Duration::from_secs(120), "the job goes on and on");
        std::thread::sleep(Duration::from_millis(50));
    }
}

#[test]
fn a_job_tells_of_each_pack_and_then_of_its_end() {
    let kits = two_kits();
    for number in 3..=6 {
        create_kit(&kits.server, &kits.publisher, &format!("K-{number}"), "frame", "A");
    }
    let before = newest(&kits.server, &kits.publisher);
    let path = "/v1/designs/frame/revisions/A/pack-jobs";
    let place = kits.server.post(path, &kits.publisher, &json!({})).expect(202).header("location").to_owned();
    job_ended(&kits.server, &kits.publisher, &place);
    let kits_of_a = kits.server.get(&place, &kits.publisher).expect(200).json();
    let new = events_after(&kits.server, &kits.support, before, 1000);
    let issued = new.iter().filter(|event| event["type"] == "pack-issued").count();
    assert_eq!(json!(issued), kits_of_a["issued"]);
    let last = new.last().unwrap();
    assert_eq!((new.len(), told(&new).last()), (issued + 1, Some(&("job-ended", &*place))));
    assert_eq!(last["facts"], json!({"design": "frame", "revision": "A", "job": 1, "end": "done"}));
}

/// On PostgreSQL two processes write, and a third reader is asked in turn.
#[test]
fn whoever_asks_while_others_write_misses_nothing_and_gets_nothing_twice() {
    let first = Server::start();
    let publisher = first.publisher();
    create_design(&first, &publisher, "frame");
    publish_document(&first, &publisher, "frame", &frame(900));
    let second = on_postgres().then(|| Server::start_in(Arc::clone(&first.data)));
    let servers: Vec<&Server> = std::iter::once(&first).chain(&second).collect();
    let written = AtomicBool::new(false);
    let seen = std::thread::scope(|scope| {
        let reader = scope.spawn(|| {
            let (mut seen, mut after) = (Vec::new(), 0);
            for turn in 0.. {
                let is_last = written.load(Ordering::Relaxed);
                let server = servers[turn % servers.len()];
                let new = events_after(server, &publisher, after, 7);
                after = new.last().map_or(after, |event| event["id"].as_i64().unwrap());
                seen.extend(new);
                if is_last {
                    break;
                }
            }
            seen
        });
        std::thread::scope(|scope| {
            for writer in 0..4 {
                let (server, publisher) = (servers[writer % servers.len()], &publisher);
                scope.spawn(move || {
                    for number in 0..25 {
                        create_kit(server, publisher, &format!("K-{writer}-{number}"), "frame", "A");
                    }
                });
            }
        });
        written.store(true, Ordering::Relaxed);
        reader.join().unwrap()
    });
    assert_eq!(seen.len(), 101);
    assert_eq!(seen, events_after(&first, &publisher, 0, 1000));
}

#[test]
fn a_backup_has_its_events_and_goes_on_with_ids_that_nobody_saw() {
    let kits = two_kits();
    let folder = tempfile::tempdir().unwrap();
    let backup = folder.path().join("backup");
    let done = run_on(&kits.server.data, &["backup", "--to", backup.to_str().unwrap()]);
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let kept = events_after(&kits.server, &kits.publisher, 0, 1000);
    create_kit(&kits.server, &kits.publisher, "K-LOST", "frame", "A");
    let lost = newest(&kits.server, &kits.publisher);
    let place = Place::new();
    let done = run_on(&place, &["restore", "--from", backup.to_str().unwrap()]);
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let restored = Server::start_in(Arc::new(place));
    assert_eq!(events_after(&restored, &kits.publisher, 0, 1000), kept);
    create_kit(&restored, &kits.publisher, "K-NEW", "frame", "A");
    let new = events_after(&restored, &kits.publisher, lost, 1000);
    assert_eq!(told(&new), [("kit-registered", "/v1/kits/K-NEW")]);
    let found = run_on(&restored.data, &["verify"]);
    assert!(found.status.success(), "{}", String::from_utf8_lossy(&found.stdout));
}

#[tokio::test]
async fn what_is_no_longer_kept_is_said_to_be_gone() {
    let kits = two_kits();
    let all = events_after(&kits.server, &kits.publisher, 0, 1000);
    let mut records = kits.server.data.open().await;
    // Of 1970: kept no longer, but for the last of them.
    records
        .execute(
            "UPDATE events SET id = 1000 + (SELECT COUNT(*) FROM events AS other WHERE other.id < events.id) \
                     WHERE id < (SELECT MAX(id) FROM events)",
        )
        .await
        .unwrap();
    drop(records);
    let server = Server::start_in(kits.server.stop());
    let begun = Instant::now();
    let left = loop {
        let left = events_after(&server, &kits.publisher, 0, 1000);
        if left.len() == 2 {
            break left;
        }
        assert!(begun.elapsed() < Duration::from_secs(20), "{left:?}");
        std::thread::sleep(Duration::from_millis(50));
    };
    assert_eq!(left[1], all[all.len() - 1]);
    server.get("/v1/events?after=1000", &kits.publisher).problem(410, "events-forgotten");
    let oldest = left[0]["id"].as_i64().unwrap();
    assert_eq!(events_after(&server, &kits.publisher, oldest, 10).len(), 1);
    server.get("/v1/events?limit=0", &kits.publisher).problem(400, "bad-request");
    server.get("/v1/events?after=-1", &kits.publisher).problem(400, "bad-request");
}

fn secret(folder: &Path) -> String {
    let path = folder.join("secret");
    writeln!(std::fs::File::create(&path).unwrap(), "a secret of more than sixteen").unwrap();
    path.to_str().unwrap().to_owned()
}

fn deliveries(kits: &TwoKits, state: &str) -> Vec<Value> {
    let mut listed = kits.server.get(&format!("/v1/deliveries?state={state}"), &kits.support).expect(200).json();
    serde_json::from_value(listed["deliveries"].take()).unwrap()
}

#[tokio::test]
async fn the_webhook_is_told_of_the_chosen_types_and_again_when_it_was_away() {
    let sink = webhook(&[503]);
    let folder = tempfile::tempdir().unwrap();
    let address = format!("http://{}/", sink.address);
    let secret = secret(folder.path());
    let options =
        ["--webhook", &address, "--webhook-secret-file", &secret, "--webhook-events", "pack-issued, job-ended"];
    let kits = crate::fixtures::two_kits_on(Server::start_with(&options));
    let path = "/v1/designs/frame/revisions/A/pack-jobs";
    let before = newest(&kits.server, &kits.publisher);
    let place = kits.server.post(path, &kits.publisher, &json!({})).expect(202).header("location").to_owned();
    job_ended(&kits.server, &kits.publisher, &place);
    let all = events_after(&kits.server, &kits.publisher, 0, 1000);
    let wanted: Vec<&Value> =
        all.iter().filter(|event| ["pack-issued", "job-ended"].contains(&event["type"].as_str().unwrap())).collect();
    assert!(wanted.iter().any(|event| event["id"].as_i64() > Some(before)));
    let begun = Instant::now();
    loop {
        let waiting = deliveries(&kits, "waiting");
        if waiting.len() == wanted.len() && waiting.iter().all(|one| one["attempts"] == 1 && one["error"].is_string()) {
            break;
        }
        assert!(begun.elapsed() < Duration::from_secs(30), "{waiting:?}");
        std::thread::sleep(Duration::from_millis(50));
    }
    sink.answer(204);
    kits.server.data.open().await.execute("UPDATE deliveries SET due_at = '2020-01-01T00:00:00.000Z'").await.unwrap();
    let came = sink.when(2 * wanted.len());
    let (refused, taken) = came.split_at(wanted.len());
    for (posted, event) in taken.iter().zip(&wanted) {
        assert_eq!(serde_json::from_str::<Value>(&posted.body).unwrap(), **event);
        assert_eq!(posted.header("webhook-id"), format!("event.{}.webhook", event["id"]));
        assert!(posted.header("webhook-signature").starts_with("v1,"));
        assert!(
            refused
                .iter()
                .any(|one| one.header("webhook-id") == posted.header("webhook-id") && one.body == posted.body)
        );
    }
    let begun = Instant::now();
    while deliveries(&kits, "sent").len() < wanted.len() {
        assert!(begun.elapsed() < Duration::from_secs(30));
        std::thread::sleep(Duration::from_millis(50));
    }
}

#[test]
fn a_type_that_is_none_is_refused_at_the_start() {
    let place = Place::new();
    let done = run_on(&place, &["serve", "--webhook-events", "pack-issud"]);
    let said = String::from_utf8_lossy(&done.stderr).into_owned();
    assert_eq!(done.status.code(), Some(2), "{said}");
    assert!(said.contains("pack-issud is none of revision-published"), "{said}");
}
