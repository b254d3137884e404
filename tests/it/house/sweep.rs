//! Orphaned blobs are swept away, and never one that a pack speaks of; and the room left on the disk.

use crate::bucket::on_s3;
use crate::fixtures::{create_kit, two_kits};
use crate::place::{Place, Records};
use crate::server::{Server, run_on};
use serde_json::json;
use std::fs::File;
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, SystemTime};

const DAY: Duration = Duration::from_secs(24 * 60 * 60);

/// Makes a file look as if it had been written so long ago; it may be gone by then.
fn age(path: &Path, by: Duration) {
    if let Ok(file) = File::options().write(true).open(path) {
        file.set_modified(SystemTime::now() - by).unwrap();
    }
}

fn sweep(place: &Place) -> String {
    let done = run_on(place, &["sweep"]);
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    String::from_utf8(done.stdout).unwrap()
}

/// Puts a blob there that was written so long ago for a pack that never came, as the service lists it.
async fn leave(records: &mut Records, place: &Place, name: &str, at: &str) {
    place.plant_blob(name, b"left over");
    records.run(format!("INSERT INTO written_blobs (sha256, bytes, at) VALUES ('{name}', 9, '{at}')")).await.unwrap();
}

const LONG_AGO: &str = "2026-01-01T00:00:00.000Z";

#[tokio::test]
async fn only_what_is_old_and_spoken_of_by_no_pack_and_ours_goes() {
    let kits = two_kits();
    let place = &kits.server.data;
    let mut records = place.open().await;
    let (old, young, strange) = ("a".repeat(64), "b".repeat(64), "c".repeat(64));
    leave(&mut records, place, &old, LONG_AGO).await;
    leave(&mut records, place, &young, "2999-01-01T00:00:00.000Z").await;
    // All that was written for packs is old too.
    records.run(format!("UPDATE written_blobs SET at = '{LONG_AGO}' WHERE bytes <> 9")).await.unwrap();
    place.plant_blob(&strange, b"somebody else's");
    let unfinished = if on_s3() {
        0
    } else {
        let blobs = place.path().join("blobs");
        for (name, by) in [("new-abc", 2 * DAY), ("new-def", Duration::ZERO), ("notes of somebody.txt", 9 * DAY)] {
            place.plant_blob(name, b"left over");
            age(&blobs.join(name), by);
        }
        1
    };
    assert_eq!(sweep(place), format!("removed 1 orphaned blobs of 9 bytes and {unfinished} unfinished files\n"));
    let there = |name: &str| place.has_blob(name);
    assert!(!there(&old) && there(&young) && there(&strange));
    assert!(on_s3() || (!there("new-abc") && there("new-def") && there("notes of somebody.txt")));
    assert_eq!(sweep(place), "removed 0 orphaned blobs of 0 bytes and 0 unfinished files\n");
    for path in ["/v1/kits/K-1/packs/1/file", "/v1/kits/K-2/packs/1/file", "/v1/kits/K-1/packs/1/manifest"] {
        kits.server.get(path, &kits.support).expect(200);
    }
    // The service does it by itself when it starts.
    leave(&mut records, place, &old, LONG_AGO).await;
    let server = Server::start_in(kits.server.stop());
    while server.data.has_blob(&old) {
        std::thread::sleep(Duration::from_millis(20));
    }
    server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200);
    assert!(server.data.has_blob(&young));
}

/// Somebody turns the clock of the list far back, so that a blob is old as soon as it is there and only the care that both sides take
/// keeps it.
#[test]
fn a_sweep_takes_nothing_from_those_who_issue_packs_meanwhile() {
    const KITS: usize = 4;
    const PACKS: usize = 12;
    let kits = two_kits();
    for kit in 0..KITS {
        create_kit(&kits.server, &kits.publisher, &format!("R-{kit}"), "frame", "B");
    }
    let place = &kits.server.data;
    let done = AtomicBool::new(false);
    let working = || !done.load(Ordering::Relaxed);
    std::thread::scope(|scope| {
        scope.spawn(|| {
            let turn_back = async {
                let mut records = place.open().await;
                while working() {
                    // One row at a time, so that it locks none while it waits for another; refused when it waits too long.
                    let _ = records
                        .run(format!(
                            "UPDATE written_blobs SET at = '{LONG_AGO}' WHERE sha256 = \
                             (SELECT MIN(sha256) FROM written_blobs WHERE at <> '{LONG_AGO}')"
                        ))
                        .await;
                    tokio::time::sleep(Duration::from_millis(2)).await;
                }
            };
            tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap().block_on(turn_back);
        });
        for _ in 0..2 {
            scope.spawn(|| {
                while working() {
                    sweep(place);
                }
            });
        }
        let issuing: Vec<_> = (0..KITS)
            .map(|kit| {
                let (server, token) = (&kits.server, &kits.support);
                scope.spawn(move || {
                    for _ in 0..PACKS {
                        let path = format!("/v1/kits/R-{kit}/packs");
                        let answer = server.post(&path, token, &json!({}));
                        // Swept away five times in a row it says so, and nothing is on record.
                        assert!([201, 503].contains(&answer.status), "{answer:?}");
                    }
                })
            })
            .collect();
        let ended: Vec<bool> = issuing.into_iter().map(|thread| thread.join().is_ok()).collect();
        done.store(true, Ordering::Relaxed);
        assert!(ended.into_iter().all(|well| well));
    });
    let mut issued = 0;
    for kit in 0..KITS {
        let packs = kits.server.get(&format!("/v1/kits/R-{kit}/packs"), &kits.support).json();
        for pack in packs["packs"].as_array().unwrap() {
            let path = format!("/v1/kits/R-{kit}/packs/{}", pack["number"]);
            kits.server.get(&format!("{path}/file"), &kits.support).expect(200);
            kits.server.get(&format!("{path}/manifest"), &kits.support).expect(200);
            issued += 1;
        }
    }
    assert!(issued >= KITS, "{issued} packs");
    let found = run_on(place, &["verify"]);
    assert!(found.status.success(), "{}", String::from_utf8_lossy(&found.stdout));
}

#[test]
fn with_little_room_left_it_is_not_ready_and_goes_on_all_the_same() {
    // More than any disk has, in MB.
    let server = Server::start_with(&["--min-free-disk", "1000000000000"]);
    let token = server.publisher();
    if crate::place::on_postgres() && on_s3() {
        server.get("/readyz", "").expect(200);
        return;
    }
    server.get("/readyz", "").problem(503, "not-ready");
    server.get("/healthz", "").expect(200);
    server.post("/v1/designs", &token, &json!({"id": "frame", "name": "Frame"})).expect(201);
    let enough = Server::start_with(&["--min-free-disk", "1"]);
    enough.get("/readyz", "").expect(200);
}
