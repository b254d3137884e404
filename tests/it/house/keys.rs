//! The key that signs: the same one for every process on a database, and changed only on purpose.

use crate::fixtures::{TwoKits, recall, two_kits};
use crate::packs::seals::codes;
use crate::place::{Place, on_postgres};
use crate::server::{Server, binary, run_on};
use matchmark_core::seal::{PageStatement, SealKey};
use serde_json::{Value, json};
use std::path::Path;
use std::process::{Command, Output};

const SERVE: [&str; 5] = ["serve", "--listen", "127.0.0.1:0", "--metrics-listen", "off"];

/// What a process says that refuses to start.
#[track_caller]
fn refusal(done: &Output) -> String {
    let said = String::from_utf8_lossy(&done.stderr).into_owned();
    assert_eq!(done.status.code(), Some(1), "{said}");
    said
}

/// Starts on the same database from another data directory.
fn elsewhere(place: &Place, directory: &Path, more: &[&str]) -> Output {
    let mut options = place.options();
    directory.to_str().unwrap().clone_into(&mut options[1]);
    Command::new(binary()).args(SERVE).args(more).args(options).envs(place.environment()).output().unwrap()
}

/// A new key in a folder.
fn new_key(folder: &Path) -> String {
    let file = folder.join("new.key");
    let made = Command::new(binary()).arg("key").arg(&file).output().unwrap();
    assert!(made.status.success());
    file.to_str().unwrap().to_owned()
}

fn code(server: &Server, token: &str, pack: u32) -> String {
    let manifest = server.get(&format!("/v1/kits/K-1/packs/{pack}/manifest"), token).expect(200).json();
    manifest["pages"][0]["code"].as_str().unwrap().to_owned()
}

fn state(server: &Server, code: &str) -> Value {
    server.get(&format!("/v1/pages/{code}"), "").expect(200).json()["state"].clone()
}

#[test]
fn a_process_with_another_key_than_the_others_refuses_to_start() {
    let TwoKits { server, first, .. } = two_kits();
    let folder = tempfile::tempdir().unwrap();
    let other = new_key(folder.path());
    if on_postgres() {
        // While the first one goes on.
        let directory = folder.path().join("data");
        let said = refusal(&elsewhere(&server.data, &directory, &[]));
        assert!(said.contains("no signing.key in") && said.contains("already signs with a key"), "{said}");
        assert!(!directory.join("signing.key").exists(), "a key of its own was made");
        let said = refusal(&elsewhere(&server.data, &directory, &["--signing-key-file", &other]));
        assert!(said.contains("key of pages at hand") && said.contains("adopt-key"), "{said}");
        assert_eq!(state(&server, &code(&server, &first, 1)), "current");
    }
    let place = server.stop();
    let own = place.path().join("signing.key");
    let key = std::fs::read(&own).unwrap();
    std::fs::remove_file(&own).unwrap();
    let said = refusal(&run_on(&place, &SERVE));
    assert!(said.contains("already signs with a key"), "{said}");
    std::fs::copy(&other, &own).unwrap();
    let said = refusal(&run_on(&place, &SERVE));
    assert!(said.contains("not the one that this service signs with"), "{said}");
    let backup = folder.path().join("backup");
    let said = refusal(&run_on(&place, &["backup", "--to", backup.to_str().unwrap()]));
    assert!(said.contains("not the one that this service signs with") && !backup.exists(), "{said}");
    std::fs::write(&own, key).unwrap();
    let server = Server::start_in(place);
    assert_eq!(state(&server, &code(&server, &first, 1)), "current");
}

#[tokio::test]
async fn a_key_is_changed_on_purpose_and_what_the_one_before_signed_stays_known() {
    let kits = two_kits();
    let keys = |server: &Server| server.get("/v1/public-key", "").expect(200).json();
    let before = keys(&kits.server);
    assert_eq!(before["former_public_keys"], json!([]));
    let old_page = code(&kits.server, &kits.first, 1);
    let place = kits.server.stop();
    let folder = tempfile::tempdir().unwrap();
    let key = new_key(folder.path());
    let named = ["--signing-key-file", key.as_str()];
    let adopt = || {
        let done = run_on(&place, &[&["adopt-key"], &named[..]].concat());
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
        String::from_utf8(done.stdout).unwrap()
    };
    assert!(adopt().contains("in force from now on: pages and status"));
    assert!(adopt().contains("nothing"), "a second time changes nothing");
    // The one before is another one now.
    refusal(&run_on(&place, &SERVE));

    let server = Server::start_in_with(std::sync::Arc::clone(&place), &named);
    let after = keys(&server);
    assert_ne!(after["public_key"], before["public_key"]);
    assert_eq!(after["former_public_keys"], json!([before["public_key"]]));
    assert_eq!(state(&server, &old_page), "current");
    server.post("/v1/kits/K-1/packs", &kits.support, &json!({})).expect(201);
    assert_eq!(state(&server, &code(&server, &kits.first, 2)), "current");
    assert_eq!(state(&server, &old_page), "superseded");
    let mut records = place.open().await;
    let acts = records.lines("SELECT subject FROM audit WHERE action = 'adopt-key' ORDER BY number").await;
    let public = after["public_key"].as_str().unwrap();
    assert_eq!(acts, [format!("signing-keys/pages/{public}"), format!("signing-keys/status/{public}")]);
    for attack in ["UPDATE signing_keys SET public_key = 'x'", "DELETE FROM signing_keys"] {
        assert!(records.execute(attack).await.is_err(), "{attack}");
    }
    let found = run_on(&place, &["verify"]);
    assert!(found.status.success(), "{}", String::from_utf8_lossy(&found.stdout));
}

#[test]
fn a_process_whose_key_was_replaced_signs_nothing_more() {
    let kits = two_kits();
    let TwoKits { server, support, .. } = &kits;
    let folder = tempfile::tempdir().unwrap();
    let key = new_key(folder.path());
    let issue = || server.post("/v1/kits/K-1/packs", support, &json!({}));
    issue().expect(201);
    let old_page = code(server, &kits.first, 1);
    let adopted = run_on(&server.data, &["adopt-key", "--signing-key-file", &key]);
    assert!(adopted.status.success(), "{}", String::from_utf8_lossy(&adopted.stderr));

    let problem = issue().problem(503, "key-not-in-force");
    assert!(problem["detail"].as_str().unwrap().contains("restart it"), "{problem}");
    server.get("/v1/designs/frame/status", "").problem(503, "key-not-in-force");
    server.get("/readyz", "").expect(503);
    // What it does not sign goes on, and so does what was signed.
    assert_eq!(state(server, &old_page), "superseded");
    server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200);
    let packs = server.get("/v1/kits/K-1/packs", support).json();
    assert_eq!(packs["packs"].as_array().unwrap().len(), 2);

    let place = kits.server.stop();
    let server = Server::start_in_with(place, &["--signing-key-file", key.as_str()]);
    server.post("/v1/kits/K-1/packs", &kits.support, &json!({})).expect(201);
    server.get("/readyz", "").expect(200);
}

#[tokio::test]
async fn what_a_revoked_key_signed_is_told_by_the_record_alone() {
    let kits = two_kits();
    let TwoKits { server, support, publisher, .. } = &kits;
    let public = server.get("/v1/public-key", "").expect(200).json()["public_key"].as_str().unwrap().to_owned();
    let stolen = SealKey::from_hex(std::fs::read_to_string(server.data.path().join("signing.key")).unwrap().trim());
    let stolen = stolen.unwrap();
    let own = code(server, publisher, 1);
    recall(&kits, "A");
    let sheet = server.get("/v1/kits/K-1/stop-sheets/A/pdf", support).expect(200);
    let loose = codes(&sheet.body)[0].clone();
    assert_eq!(state(server, &loose), "recalled");
    // The thief's own: the same page of another day.
    let page = PageStatement { date: "2026-01-01".to_owned(), ..PageStatement::claimed(&own).unwrap() };
    let forged = stolen.sign(&page).unwrap();

    let revoke = |key: &str| run_on(&server.data, &["revoke-key", key, "--because", "Copied from the machine."]);
    let unknown = refusal(&revoke(&"0".repeat(64)));
    assert!(unknown.contains("never signed with"), "{unknown}");
    let done = revoke(&public);
    let said = String::from_utf8_lossy(&done.stdout).into_owned();
    assert!(done.status.success() && said.contains("nothing is signed from now on"), "{said}");
    assert!(String::from_utf8_lossy(&revoke(&public).stdout).contains("already revoked"));

    let keys = server.get("/v1/public-key", "").expect(200).json();
    assert_eq!(keys["public_key"], Value::Null);
    assert_eq!(keys["revoked_public_keys"][0]["public_key"], *public);
    server.post("/v1/kits/K-2/packs", support, &json!({})).problem(503, "key-not-in-force");
    assert_eq!(state(server, &own), "recalled", "its pack is on record with this code");
    assert_eq!(state(server, &forged), "unknown");
    assert_eq!(state(server, &loose), "unknown", "nothing else proves the page genuine");

    let folder = tempfile::tempdir().unwrap();
    let key = new_key(folder.path());
    let place = kits.server.stop();
    assert!(refusal(&run_on(&place, &SERVE)).contains("was revoked"));
    assert!(refusal(&run_on(&place, &["adopt-key"])).contains("was revoked"));
    let named = ["--signing-key-file", key.as_str()];
    assert!(run_on(&place, &[&["adopt-key"], &named[..]].concat()).status.success());
    let server = Server::start_in_with(std::sync::Arc::clone(&place), &named);
    assert_eq!(state(&server, &own), "recalled");
    let keys = server.get("/v1/public-key", "").expect(200).json();
    assert_eq!(keys["former_public_keys"], json!([]));
    server.post("/v1/kits/K-2/packs", &kits.support, &json!({})).expect(201);
    let mut records = place.open().await;
    for attack in ["UPDATE revoked_keys SET reason = 'x'", "DELETE FROM revoked_keys"] {
        assert!(records.execute(attack).await.is_err(), "{attack}");
    }
    let found = run_on(&place, &["verify"]);
    assert!(found.status.success(), "{}", String::from_utf8_lossy(&found.stdout));
}

#[test]
fn a_database_that_nobody_worked_on_is_said_to_be_empty() {
    let place = Place::new();
    for command in [&["verify"][..], &["adopt-key"], &["figures"], &["sweep"]] {
        let said = refusal(&run_on(&place, command));
        let expected = if on_postgres() { "the database is empty" } else { "there is no database" };
        assert!(
            said.contains(expected) || command == ["adopt-key"] && said.contains("signing.key"),
            "{command:?}: {said}"
        );
        assert!(!said.contains("SELECT") && !said.contains("relation"), "{command:?}: {said}");
    }
}
