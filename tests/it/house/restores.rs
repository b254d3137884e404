//! After an older backup is restored: nothing that may have been given out since is given again, and the place of the packs is one
//! database's.

use crate::bucket::on_s3;
use crate::fixtures::{TwoKits, create_kit, frame, publish_document, recall, two_kits};
use crate::place::{Place, on_postgres};
use crate::server::{Server, binary, run_on};
use serde_json::{Value, json};
use std::path::Path;
use std::process::{Command, Output};
use std::sync::Arc;

fn said(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

fn back_up(data: &Place, to: &Path) {
    let done = run_on(data, &["backup", "--to", to.to_str().unwrap()]);
    assert_eq!(done.status.code(), Some(0), "{}", said(&done));
}

fn restore(from: &Path) -> Server {
    let place = Arc::new(Place::new());
    let done = run_on(&place, &["restore", "--from", from.to_str().unwrap()]);
    assert_eq!(done.status.code(), Some(0), "{}", said(&done));
    Server::start_in(place)
}

fn issue(server: &Server, kits: &TwoKits, serial: &str) -> Value {
    server.post(&format!("/v1/kits/{serial}/packs"), &kits.support, &json!({})).expect(201).json()
}

/// Checks what the service says of the design with `--seen`, as a machine without a network does.
fn status(server: &Server, folder: &Path) -> String {
    let key = server.get("/v1/public-key", "").expect(200).json();
    std::fs::write(folder.join("status.json"), server.get("/v1/designs/frame/status", "").expect(200).body).unwrap();
    let mut command = Command::new(binary());
    command.args(["verify", "--status", "status.json", "--seen", "seen.json", "--public-key"]);
    said(&command.arg(key["status_public_key"].as_str().unwrap()).current_dir(folder).output().unwrap())
}

#[test]
fn numbers_and_letters_that_may_have_been_given_out_since_the_backup_are_left_out() {
    let kits = two_kits();
    let folder = tempfile::tempdir().unwrap();
    let to = folder.path().join("backup");
    back_up(&kits.server.data, &to);
    // What is lost: two packs, a revision, a recall, a notice.
    for _ in 0..2 {
        issue(&kits.server, &kits, "K-1");
    }
    assert_eq!(publish_document(&kits.server, &kits.publisher, "frame", &frame(910)), "C");
    recall(&kits, "A");
    assert!(
        status(&kits.server, folder.path()).contains("version 4"),
        "two revisions more than nothing, a third and a recall"
    );

    let server = restore(&to);
    let pack = issue(&server, &kits, "K-1");
    assert_eq!(pack["number"], 101, "1 is from before, 2 and 3 are lost");
    assert_eq!(issue(&server, &kits, "K-1")["number"], 102);
    assert_eq!(publish_document(&server, &kits.publisher, "frame", &frame(911)), "AC");
    assert_eq!(publish_document(&server, &kits.publisher, "frame", &frame(912)), "AD");
    let after = status(&server, folder.path());
    assert!(after.contains("version 1004: revision AD is current"), "{after}");
    let notice = json!({"from": "A", "to": "B", "class": "recommended", "text": "Posts grew."});
    let raised = server.post("/v1/designs/frame/notices", &kits.publisher, &notice).expect(201).json();
    assert_eq!(raised["number"], 101);
    // A kit with this serial may have been registered since the backup, and lost.
    create_kit(&server, &kits.publisher, "K-3", "frame", "B");
    assert_eq!(issue(&server, &kits, "K-3")["number"], 101);
    let found = run_on(&server.data, &["verify"]);
    assert_eq!(found.status.code(), Some(0), "{}", said(&found));
    assert!(
        said(&found).contains("298 numbers of packs, 20 letters of revisions and 100 numbers of notices"),
        "{}",
        said(&found)
    );

    // A design with a gap in its letters goes to another service and comes as it is.
    let file = server.get("/v1/designs/frame/file", &kits.publisher).expect(200);
    let other = Server::start();
    let publisher = other.publisher();
    let text = String::from_utf8(file.body).unwrap();
    let headers = [("content-type", "application/json"), ("idempotency-key", "once")];
    other.send("POST", "/v1/design-files", &publisher, &headers, Some(&text)).expect(201);
    let revisions = other.get("/v1/designs/frame/revisions", &publisher).expect(200).json();
    let letters: Vec<&str> =
        revisions["revisions"].as_array().unwrap().iter().map(|row| row["letter"].as_str().unwrap()).collect();
    assert_eq!(letters, ["A", "B", "AC", "AD"]);
    let found = run_on(&other.data, &["verify"]);
    assert_eq!(found.status.code(), Some(0), "{}", said(&found));

    // A second restore leaves out the next hundred, and a machine that has seen this one goes on.
    let again = folder.path().join("again");
    back_up(&server.data, &again);
    let twice = restore(&again);
    assert_eq!(issue(&twice, &kits, "K-1")["number"], 201);
    assert_eq!(publish_document(&twice, &kits.publisher, "frame", &frame(913)), "BE");
    assert!(status(&twice, folder.path()).contains("version 2005"));
}

#[test]
fn a_restore_that_broke_off_is_not_served() {
    let kits = two_kits();
    let folder = tempfile::tempdir().unwrap();
    let to = folder.path().join("backup");
    back_up(&kits.server.data, &to);
    let server = restore(&to);
    let place = server.stop();
    // As a power cut leaves it before the numbers were left out.
    std::fs::write(place.path().join("restore-unfinished"), []).unwrap();
    let refused = run_on(&place, &["serve", "--listen", "127.0.0.1:0", "--metrics-listen", "off"]);
    assert_eq!(refused.status.code(), Some(1));
    assert!(said(&refused).contains("broke off"), "{}", said(&refused));
}

/// A fresh database on the place where another keeps its packs: the same bucket, else the same directory without its database.
fn fresh_on_the_same_packs(kits: TwoKits) -> (Arc<Place>, Arc<Place>) {
    let first = kits.server.stop();
    let place = first.with_the_same_packs();
    (first, Arc::new(place))
}

#[test]
fn a_place_of_packs_is_one_databases_and_refuses_another() {
    if !on_s3() && !on_postgres() {
        return;
    }
    let kits = two_kits();
    let support = kits.support.clone();
    let (first, second) = fresh_on_the_same_packs(kits);
    let refused = run_on(&second, &["serve", "--listen", "127.0.0.1:0", "--metrics-listen", "off"]);
    assert_eq!(refused.status.code(), Some(1));
    assert!(said(&refused).contains("belong to another database"), "{}", said(&refused));
    let swept = run_on(&second, &["sweep"]);
    assert_eq!(swept.status.code(), Some(1), "{}", said(&swept));
    let server = Server::start_in(first);
    server.get("/v1/kits/K-1/packs/1/file", &support).expect(200);
}

#[test]
fn a_backup_goes_beside_other_packs_only_when_they_are_taken_over() {
    if !on_s3() && !on_postgres() {
        return;
    }
    let kits = two_kits();
    let support = kits.support.clone();
    let folder = tempfile::tempdir().unwrap();
    let to = folder.path().join("backup");
    back_up(&kits.server.data, &to);
    let lost = issue(&kits.server, &kits, "K-1");
    let (first, second) = fresh_on_the_same_packs(kits);
    let from = ["restore", "--from", to.to_str().unwrap()];
    let refused = run_on(&second, &from);
    assert_eq!(refused.status.code(), Some(1));
    assert!(said(&refused).contains("--take-over"), "{}", said(&refused));
    let taken = run_on(&second, &[&from[..], &["--take-over"]].concat());
    assert_eq!(taken.status.code(), Some(0), "{}", said(&taken));
    // Nothing of what the first wrote since is swept away by the second, and the first works there no longer.
    let server = Server::start_in(second);
    assert!(said(&run_on(&server.data, &["sweep"])).starts_with("removed 0 orphaned blobs"));
    server.get("/v1/kits/K-1/packs/1/file", &support).expect(200);
    let refused = run_on(&first, &["serve", "--listen", "127.0.0.1:0", "--metrics-listen", "off"]);
    assert!(said(&refused).contains("belong to another database"), "{}", said(&refused));
    assert!(first.has_blob(lost["sha256"].as_str().unwrap()), "what was lost with the database is still there");
}
