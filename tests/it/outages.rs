//! The database or the bucket goes away while the service works, and comes back.

use crate::bucket::on_s3;
use crate::cable::Cable;
use crate::fixtures::{TwoKits, create_kit, two_kits_on};
use crate::place::{Place, on_postgres};
use crate::server::{Answer, Server};
use serde_json::{Value, json};
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
    assert_eq!(pack["number"], 2);
    assert_eq!(issue(&kits, "K-1", "once").expect(201).json(), pack);
    server.get("/readyz", "").expect(200);
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
