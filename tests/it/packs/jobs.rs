//! A pack for every kit of a revision: once each, whatever happens to the process meanwhile.

use crate::browser::Browser;
use crate::fixtures::{create_design, create_kit, frame, publish_document, recall, two_kits};
use crate::place::on_postgres;
use crate::server::Server;
use serde_json::{Value, json};
use std::sync::Arc;
use std::time::{Duration, Instant};

const JOBS: &str = "/v1/designs/frame/revisions/A/pack-jobs";

/// Revision A with kits K-01, K-02 and so on.
fn many_kits(count: usize) -> (Server, String) {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    publish_document(&server, &token, "frame", &frame(900));
    for number in 1..=count {
        create_kit(&server, &token, &format!("K-{number:02}"), "frame", "A");
    }
    (server, token)
}

fn begin(server: &Server, token: &str) -> String {
    let answer = server.post(JOBS, token, &json!({})).expect(202);
    answer.header("location").to_owned()
}

/// The job once this holds of it.
#[track_caller]
fn when(server: &Server, token: &str, place: &str, holds: impl Fn(&Value) -> bool) -> Value {
    let begun = Instant::now();
    loop {
        let job = server.get(place, token).expect(200).json();
        if holds(&job) {
            return job;
        }
        assert!(begun.elapsed() < Duration::from_secs(60), "it did not come to this: {job}");
        std::thread::sleep(Duration::from_millis(20));
    }
}

fn is_over(job: &Value) -> bool {
    !job["finished_at"].is_null()
}

fn packs(server: &Server, token: &str, serial: &str) -> usize {
    let path = format!("/v1/kits/{serial}/packs");
    server.get(&path, token).expect(200).json()["packs"].as_array().unwrap().len()
}

/// Name, id and data of each event.
fn events(server: &Server, token: &str, place: &str, after: Option<&str>) -> Vec<(String, String, Value)> {
    let headers: Vec<_> = after.map(|id| ("last-event-id", id)).into_iter().collect();
    let answer = server.send("GET", &format!("{place}/events"), token, &headers, None).expect(200);
    assert_eq!(answer.header("content-type"), "text/event-stream");
    let text = String::from_utf8(answer.body).unwrap();
    let blocks = text.split("\n\n").filter(|block| block.contains("data: "));
    let field = |block: &str, name: &str| {
        let line = block.lines().find_map(|line| line.strip_prefix(name));
        line.unwrap_or_default().to_owned()
    };
    let read = |block: &str| {
        let data = serde_json::from_str(&field(block, "data: ")).unwrap();
        (field(block, "event: "), field(block, "id: "), data)
    };
    blocks.map(read).collect()
}

#[test]
fn every_kit_has_one_result_and_those_that_are_current_keep_their_pack() {
    let (server, token) = many_kits(4);
    server.post("/v1/kits/K-02/packs", &token, &json!({})).expect(201);
    let key = [("idempotency-key", "all of A")];
    let first = server.send("POST", JOBS, &token, &key, Some("{}")).expect(202);
    let again = server.send("POST", JOBS, &token, &key, Some("{}")).expect(202);
    assert_eq!(first.header("location"), again.header("location"));
    let place = first.header("location").to_owned();

    let told = events(&server, &token, &place, None);
    let (end, kits) = told.split_last().unwrap();
    assert_eq!((end.0.as_str(), &end.2["state"]), ("end", &json!("done")));
    let ids: Vec<&str> = kits.iter().map(|(_, id, _)| id.as_str()).collect();
    assert_eq!(ids, ["1", "2", "3", "4"]);
    let states: Vec<(&str, &str)> =
        kits.iter().map(|(_, _, kit)| (kit["kit"].as_str().unwrap(), kit["state"].as_str().unwrap())).collect();
    assert_eq!(states, [("K-01", "issued"), ("K-02", "current"), ("K-03", "issued"), ("K-04", "issued")]);
    let rest = events(&server, &token, &place, Some("3"));
    assert_eq!(rest, told[3..], "who was cut off goes on from where they were");

    let job = server.get(&place, &token).expect(200).json();
    assert_eq!(
        (&job["kits"], &job["issued"], &job["current"], &job["waiting"]),
        (&json!(4), &json!(3), &json!(1), &json!(0))
    );
    for serial in ["K-01", "K-02", "K-03", "K-04"] {
        assert_eq!(packs(&server, &token, serial), 1);
    }
    let page = server.get(&format!("{place}/kits?page_size=3"), &token).expect(200);
    assert!(page.header("link").contains("rel=\"next\""));
    assert_eq!(page.json()["kits"].as_array().unwrap().len(), 3);

    // Another job finds all of them current, but not for other paper.
    let place = begin(&server, &token);
    assert_eq!(when(&server, &token, &place, is_over)["current"], 4);
    let paper = server.post(JOBS, &token, &json!({"paper": "letter"})).expect(202);
    let job = when(&server, &token, paper.header("location"), is_over);
    assert_eq!((&job["issued"], &job["paper"]), (&json!(4), &json!("letter")));
    let listed = server.get("/v1/pack-jobs", &token).expect(200).json();
    let numbers: Vec<i64> =
        listed["jobs"].as_array().unwrap().iter().map(|job| job["number"].as_i64().unwrap()).collect();
    assert_eq!(numbers, [3, 2, 1]);
    server.get("/v1/pack-jobs/9", &token).problem(404, "unknown-pack-job");
}

#[test]
fn a_kit_that_has_the_templates_of_one_hand_alone_gets_a_whole_pack() {
    let (server, token) = many_kits(3);
    server.post("/v1/kits/K-01/packs", &token, &json!({"hands": "left"})).expect(201);
    server.post("/v1/kits/K-02/packs", &token, &json!({"hands": "left"})).expect(201);
    server.post("/v1/kits/K-02/packs", &token, &json!({"hands": "right"})).expect(201);
    server.post("/v1/kits/K-03/packs", &token, &json!({})).expect(201);
    let place = begin(&server, &token);
    let job = when(&server, &token, &place, is_over);
    assert_eq!((&job["issued"], &job["current"]), (&json!(1), &json!(2)), "{job}");
    let standing = server.get("/v1/kits/K-01", &token).expect(200).json()["standing"].clone();
    assert_eq!((&standing["state"], &standing["pack"]), (&json!("current"), &json!(2)), "{standing}");
    assert!(!standing["words"].as_str().unwrap().contains("hand"), "{standing}");
    let place = begin(&server, &token);
    assert_eq!(when(&server, &token, &place, is_over)["current"], 3);
}

#[test]
fn a_kit_that_was_moved_needs_a_pack_of_its_new_revision() {
    let kits = two_kits();
    let place = begin(&kits.server, &kits.publisher);
    assert_eq!(when(&kits.server, &kits.publisher, &place, is_over)["current"], 1);
    kits.server.post("/v1/kits/K-1/moves", &kits.publisher, &json!({"revision": "B", "reason": "A test."})).expect(201);
    let path = "/v1/designs/frame/revisions/B/pack-jobs";
    let place = kits.server.post(path, &kits.support, &json!({})).expect(202).header("location").to_owned();
    let job = when(&kits.server, &kits.support, &place, is_over);
    assert_eq!((&job["issued"], &job["current"]), (&json!(1), &json!(1)), "K-1 has a pack of A only");
}

#[test]
fn a_recall_in_the_middle_refuses_the_rest_and_says_why() {
    let (server, publisher) = many_kits(12);
    let place = begin(&server, &publisher);
    let kits = crate::fixtures::TwoKits {
        support: publisher.clone(),
        first: String::new(),
        second: String::new(),
        server,
        publisher,
    };
    recall(&kits, "A");
    let (server, token) = (&kits.server, &kits.publisher);
    let job = when(server, token, &place, is_over);
    let count = |name: &str| job[name].as_i64().unwrap();
    assert!(count("refused") > 0);
    assert_eq!(count("issued") + count("refused"), 12);
    let listed = server.get(&format!("{place}/kits"), token).expect(200).json();
    for kit in listed["kits"].as_array().unwrap().iter().filter(|kit| kit["state"] == "refused") {
        assert_eq!(kit["problem"]["code"], "not-in-force");
        assert!(kit["problem"]["detail"].as_str().unwrap().contains("recalled"));
        assert_eq!(packs(server, token, kit["kit"].as_str().unwrap()), 0);
    }
    server.post(JOBS, token, &json!({})).problem(409, "not-in-force");
}

#[test]
fn a_cancelled_job_ends_and_leaves_the_rest() {
    let (server, token) = many_kits(20);
    let place = begin(&server, &token);
    when(&server, &token, &place, |job| job["issued"].as_i64() > Some(0));
    server.send("POST", &format!("{place}/cancellation"), &token, &[], None).expect(200);
    let job = when(&server, &token, &place, is_over);
    assert_eq!(job["state"], "cancelled");
    let count = |name: &str| job[name].as_i64().unwrap();
    assert!(count("left") > 0);
    assert_eq!(count("issued") + count("left"), 20);
    assert_eq!(packs(&server, &token, "K-20"), 0);
    // The bar shows how far it got, not that every kit has a result.
    let far = format!("max=\"20\" value=\"{}\"", count("issued"));
    let desk = Browser::with_token(&server, &token);
    desk.get("/jobs/1").expect(200).says(&far).says(&format!("{} kit", count("left"))).says("left unchanged");
    // Once more changes nothing.
    let again = server.send("POST", &format!("{place}/cancellation"), &token, &[], None).expect(200).json();
    assert_eq!(again, job);
}

#[test]
fn a_job_goes_on_after_its_process_was_killed_and_no_kit_gets_two_packs() {
    let (server, token) = many_kits(16);
    let place = begin(&server, &token);
    let before = when(&server, &token, &place, |job| job["issued"].as_i64() > Some(2));
    assert!(!is_over(&before), "killed in the middle: {before}");
    let server = Server::start_in(server.kill());
    let after = when(&server, &token, &place, is_over);
    assert_eq!((&after["state"], &after["issued"]), (&json!("done"), &json!(16)));
    for number in 1..=16 {
        assert_eq!(packs(&server, &token, &format!("K-{number:02}")), 1);
    }
}

#[test]
fn of_two_processes_on_one_database_each_kit_gets_its_pack_from_one() {
    if !on_postgres() {
        return;
    }
    let (first, token) = many_kits(12);
    let second = Server::start_in(Arc::clone(&first.data));
    let places = [begin(&first, &token), begin(&second, &token)];
    let jobs = places.map(|place| when(&second, &token, &place, is_over));
    let count = |name: &str| -> i64 { jobs.iter().map(|job| job[name].as_i64().unwrap()).sum() };
    assert_eq!(count("refused"), 0);
    // Two jobs for the same kits may both find that a kit needs a pack; one job never issues two.
    assert_eq!(count("issued") + count("current"), 24);
    let issued: usize = (1..=12).map(|number| packs(&first, &token, &format!("K-{number:02}"))).sum();
    assert_eq!(i64::try_from(issued).unwrap(), count("issued"));
}
