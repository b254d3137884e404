//! Backups: taken while others write, restored into an empty place, and looked at bit by bit.

use crate::fixtures::{builder_token, create_design, create_kit, frame, publish_document, recall, two_kits};
use crate::place::{Place, change, on_postgres};
use crate::server::{Server, binary, run_on};
use data_encoding::HEXLOWER;
use serde_json::json;
use sha2::{Digest, Sha256};
use std::fs::File;
use std::os::unix::fs::MetadataExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::time::Duration;
use tempfile::TempDir;

fn said(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

/// A folder for backups and the name of one in it.
fn shelf() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let to = folder.path().join("backup");
    (folder, to)
}

fn back_up(data: &Place, to: &Path) {
    let done = run_on(data, &["backup", "--to", to.to_str().unwrap()]);
    assert_eq!(done.status.code(), Some(0), "{}", said(&done));
}

fn restore(from: &Path, more: &[&str]) -> (Arc<Place>, Output) {
    let place = Place::new();
    let done = run_on(&place, &[&["restore", "--from", from.to_str().unwrap()], more].concat());
    (Arc::new(place), done)
}

/// Stops the writers, however the test goes on.
struct StopWhenDropped<'a>(&'a AtomicBool);

impl Drop for StopWhenDropped<'_> {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

#[test]
fn a_backup_taken_while_four_write_holds_all_that_was_acknowledged_before_it() {
    let server = Server::start();
    let publisher = server.publisher();
    create_design(&server, &publisher, "frame");
    publish_document(&server, &publisher, "frame", &frame(900));
    let stop = AtomicBool::new(false);
    // Serial, and hash of the pack, of every kit whose pack was acknowledged.
    let acknowledged: Mutex<Vec<(String, String)>> = Mutex::default();
    let write = |writer: usize| {
        for number in 0.. {
            if stop.load(Ordering::Relaxed) {
                break;
            }
            let serial = format!("K-{writer}-{number}");
            create_kit(&server, &publisher, &serial, "frame", "A");
            let pack = server.post(&format!("/v1/kits/{serial}/packs"), &publisher, &json!({})).expect(201).json();
            acknowledged.lock().unwrap().push((serial, pack["sha256"].as_str().unwrap().to_owned()));
        }
    };
    let (before, _folder, to) = std::thread::scope(|scope| {
        let writers: Vec<_> = (0..4).map(|writer| scope.spawn(move || write(writer))).collect();
        let _stop = StopWhenDropped(&stop);
        while acknowledged.lock().unwrap().len() < 8 {
            assert!(!writers.iter().any(|writer| writer.is_finished()), "a writer gave up");
            std::thread::sleep(Duration::from_millis(20));
        }
        // A backup that no write met shows nothing: take another one.
        loop {
            let before = acknowledged.lock().unwrap().clone();
            let (folder, to) = shelf();
            back_up(&server.data, &to);
            if acknowledged.lock().unwrap().len() > before.len() {
                break (before, folder, to);
            }
            assert!(!writers.iter().any(|writer| writer.is_finished()), "a writer gave up");
        }
    });
    let checked = run_on(&server.data, &["verify", to.to_str().unwrap()]);
    assert_eq!(checked.status.code(), Some(0), "{}", said(&checked));
    assert!(said(&checked).contains("the backup is complete"));

    let (place, done) = restore(&to, &[]);
    assert_eq!(done.status.code(), Some(0), "{}", said(&done));
    assert!(said(&done).contains("nothing has changed since it was recorded"), "{}", said(&done));
    let restored = Server::start_in(place);
    assert!(!restored.printed.contains("token"), "the tokens are those of before");
    for (serial, sha256) in &before {
        let file = restored.get(&format!("/v1/kits/{serial}/packs/1/file"), &publisher).expect(200);
        assert_eq!(HEXLOWER.encode(&Sha256::digest(&file.body)), *sha256, "the pack of {serial}");
    }
    let key = |server: &Server| server.get("/v1/public-key", "").json();
    assert_eq!(key(&restored), key(&server), "pages issued before stay known");
}

#[test]
fn whoever_was_erased_after_a_backup_is_erased_again() {
    let kits = two_kits();
    let (_folder, to) = shelf();
    back_up(&kits.server.data, &to);
    let id = kits.server.get("/v1/kits/K-1", &kits.publisher).json()["customer_id"].as_str().unwrap().to_owned();
    kits.server.post(&format!("/v1/customers/{id}/erasure"), &kits.publisher, &json!({})).expect(200);
    let later = to.with_file_name("later");
    back_up(&kits.server.data, &later);

    let (place, done) = restore(&to, &["--erasures", later.join("erasures").to_str().unwrap()]);
    assert_eq!(done.status.code(), Some(0), "{}", said(&done));
    assert!(said(&done).contains("1 customers erased again"), "{}", said(&done));
    let restored = Server::start_in(place);
    let customer = restored.get(&format!("/v1/customers/{id}"), &kits.publisher).expect(200).json();
    assert_eq!((&customer["name"], &customer["email"]), (&json!(""), &json!("")));
    restored.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200);
    // Once on the list, always on the list.
    let again = to.with_file_name("again");
    back_up(&restored.data, &again);
    assert!(again.join("erasures").join(&id).exists());
}

#[test]
fn a_backup_goes_into_an_empty_place_only_and_never_over_another() {
    let kits = two_kits();
    let (folder, to) = shelf();
    back_up(&kits.server.data, &to);
    let again = run_on(&kits.server.data, &["backup", "--to", to.to_str().unwrap()]);
    assert_eq!(again.status.code(), Some(1));
    assert!(said(&again).contains("exists already"), "{}", said(&again));
    let data = kits.server.stop();
    let refused = run_on(&data, &["restore", "--from", to.to_str().unwrap()]);
    assert_eq!(refused.status.code(), Some(1));
    assert!(said(&refused).contains("empty"), "{}", said(&refused));
    let noise = restore(folder.path(), &[]).1;
    assert_eq!(noise.status.code(), Some(1));
    let left: Vec<_> = std::fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(left, ["backup"], "an unfinished backup was left behind");
}

/// Every file and folder of a backup that others than its owner can look at, or do anything with.
fn open_to_others(backup: &Path) -> Vec<String> {
    let mut open = Vec::new();
    let mut left = vec![backup.to_owned()];
    while let Some(path) = left.pop() {
        let Ok(facts) = std::fs::symlink_metadata(&path) else { continue };
        let wanted = if facts.is_dir() { 0o700 } else { 0o600 };
        if facts.mode() & 0o777 != wanted {
            open.push(format!("{} {:o}", path.display(), facts.mode() & 0o777));
        }
        if facts.is_dir() {
            left.extend(
                std::fs::read_dir(&path).into_iter().flatten().filter_map(Result::ok).map(|entry| entry.path()),
            );
        }
    }
    open
}

/// `matchmark backup` as somebody starts it whose new files are open to all.
fn backup_without_umask(data: &Place, to: &Path) -> Child {
    let mut command = Command::new("sh");
    command.args(["-c", "umask 000; exec \"$0\" \"$@\"", binary().to_str().unwrap()]);
    command.args(["backup", "--to", to.to_str().unwrap()]).args(data.options()).envs(data.environment());
    command.stdout(Stdio::null()).spawn().unwrap()
}

#[test]
fn only_its_owner_can_look_into_a_backup_from_the_first_moment_on() {
    let kits = two_kits();
    let (shelf, to) = shelf();
    let mut taking = backup_without_umask(&kits.server.data, &to);
    while taking.try_wait().unwrap().is_none() {
        for entry in std::fs::read_dir(shelf.path()).unwrap().filter_map(Result::ok) {
            assert_eq!(open_to_others(&entry.path()), Vec::<String>::new());
        }
    }
    assert!(taking.wait().unwrap().success());
    assert_eq!(open_to_others(&to), Vec::<String>::new());
    assert!(to.join("signing.key").exists() && to.join("backup.json").exists());
}

#[test]
fn a_backup_that_was_killed_looks_like_none_and_the_next_one_takes_its_leftovers_away() {
    let kits = two_kits();
    let (shelf, to) = shelf();
    let names =
        || -> Vec<PathBuf> { std::fs::read_dir(shelf.path()).unwrap().map(|entry| entry.unwrap().path()).collect() };
    // One may be whole before it is killed.
    let mut left = Vec::new();
    while left.is_empty() {
        let _ = std::fs::remove_dir_all(&to);
        let mut taking = backup_without_umask(&kits.server.data, &to);
        while taking.try_wait().unwrap().is_none() && names().is_empty() {}
        taking.kill().unwrap();
        taking.wait().unwrap();
        left = names().into_iter().filter(|path| *path != to).collect();
    }
    assert!(!to.exists(), "one that was killed has the name of a whole one");
    let checked = run_on(&kits.server.data, &["verify", left[0].to_str().unwrap()]);
    assert_eq!(checked.status.code(), Some(1), "{}", said(&checked));
    // One that is being taken is let alone.
    let other = shelf.path().join(".unfinished-backup-of-another");
    std::fs::create_dir(&other).unwrap();
    let held = File::open(&other).unwrap();
    held.lock().unwrap();
    back_up(&kits.server.data, &to);
    let mut there = names();
    there.sort();
    assert_eq!(there, [other, to]);
}

#[test]
fn one_changed_bit_of_a_backup_is_found_and_nothing_is_restored() {
    let kits = two_kits();
    let (_folder, to) = shelf();
    back_up(&kits.server.data, &to);
    let first_in = |folder: &str| std::fs::read_dir(to.join(folder)).unwrap().next().unwrap().unwrap().path();
    let database = if on_postgres() { to.join("tables/audit.copy") } else { to.join("matchmark.db") };
    for file in [first_in("blobs"), database, to.join("signing.key")] {
        let flip = || change(&file, |bytes| bytes[40] ^= 4);
        flip();
        let checked = run_on(&kits.server.data, &["verify", to.to_str().unwrap()]);
        assert_eq!(checked.status.code(), Some(1), "{}", file.display());
        let name = file.file_name().unwrap().to_str().unwrap();
        assert!(said(&checked).contains(name), "{}", said(&checked));
        let (place, done) = restore(&to, &[]);
        assert_eq!(done.status.code(), Some(1));
        assert!(said(&done).contains("nothing was restored"), "{}", said(&done));
        assert!(!place.path().join("matchmark.db").exists());
        flip();
    }
    std::fs::remove_file(first_in("blobs")).unwrap();
    assert!(said(&run_on(&kits.server.data, &["verify", to.to_str().unwrap()])).contains("3 blobs instead of 4"));
    let absent = to.join("nowhere");
    let (_place, done) = restore(&to, &["--erasures", absent.to_str().unwrap()]);
    assert_eq!(done.status.code(), Some(2));
    assert!(said(&done).contains(absent.to_str().unwrap()), "{}", said(&done));
    let done = run_on(&kits.server.data, &["backup", "--to", absent.join("b").to_str().unwrap()]);
    assert!(
        said(&done).contains(absent.to_str().unwrap()) && !said(&done).contains("data directory"),
        "{}",
        said(&done)
    );
    std::fs::remove_dir_all(to.join("blobs")).unwrap();
    let checked = run_on(&kits.server.data, &["verify", to.to_str().unwrap()]);
    assert_eq!(checked.status.code(), Some(1));
    assert!(said(&checked).contains("blobs: No such file"), "{}", said(&checked));
    assert!(said(&checked).contains("the backup is NOT complete"), "{}", said(&checked));
}

#[test]
fn verify_is_content_with_what_the_service_keeps_while_it_works() {
    let kits = two_kits();
    recall(&kits, "A");
    builder_token(&kits.server, &kits.publisher, "K-1");
    let found = run_on(&kits.server.data, &["verify"]);
    assert_eq!(found.status.code(), Some(0), "{}", said(&found));
    assert!(said(&found).contains("2 revisions, 2 packs"), "{}", said(&found));
    kits.server.get("/v1/kits/K-2", &kits.second).expect(200);
}

/// What verify says after a change behind the service's back; triggers are in the way of honest mistakes only.
#[tokio::test]
async fn verify_finds_every_kind_of_change() {
    let kits = two_kits();
    let pack = kits.server.get("/v1/kits/K-1/packs/1", &kits.first).json();
    let data = kits.server.stop();
    let mut records = data.open().await;
    let changes = [
        (
            "revisions",
            "UPDATE revisions SET document = replace(document, '900', '901') WHERE letter = 'A'",
            "the document of revision A",
        ),
        ("revisions", "UPDATE revisions SET document = replace(document, '901', '900') WHERE letter = 'A'", ""),
        ("revisions", "UPDATE revisions SET chain = 'x' WHERE letter = 'B'", "revision B of design frame was changed"),
        ("packs", "UPDATE packs SET size = size + 1 WHERE kit = 'K-2'", "another size"),
        ("packs", "UPDATE packs SET sha256 = manifest_sha256 WHERE kit = 'K-2'", "does not match the audit log"),
        (
            "audit",
            "UPDATE audit SET actor = 'nobody' WHERE chain = 'designs/frame' AND place = 2",
            "act 2 of chain designs/frame was changed",
        ),
        (
            "audit",
            "DELETE FROM audit WHERE chain = 'designs/frame' AND place = 3",
            "act 4 of chain designs/frame does not follow",
        ),
    ];
    for (table, change, fault) in changes {
        for trigger in TRIGGERS.iter().filter(|trigger| trigger.0 == table) {
            let without = if on_postgres() { trigger.1 } else { trigger.2 };
            records.execute(without).await.unwrap();
        }
        records.execute(change).await.unwrap();
        let found = run_on(&data, &["verify"]);
        assert_eq!(found.status.code(), Some(i32::from(!fault.is_empty())), "{change}: {}", said(&found));
        assert!(said(&found).contains(fault), "{change}: {}", said(&found));
    }
    data.spoil_blob(pack["sha256"].as_str().unwrap());
    let found = said(&run_on(&data, &["verify"]));
    assert!(found.contains("the file of pack 1 of kit K-1"), "{found}");
}

/// Table, and how to take what guards it away in PostgreSQL and in SQLite.
const TRIGGERS: &[(&str, &str, &str)] = &[
    ("revisions", "ALTER TABLE revisions DISABLE TRIGGER USER", "DROP TRIGGER IF EXISTS revisions_never_change"),
    ("packs", "ALTER TABLE packs DISABLE TRIGGER USER", "DROP TRIGGER IF EXISTS packs_never_change"),
    ("audit", "ALTER TABLE audit DISABLE TRIGGER USER", "DROP TRIGGER IF EXISTS audit_never_changes"),
    ("audit", "ALTER TABLE audit DISABLE TRIGGER USER", "DROP TRIGGER IF EXISTS audit_never_goes"),
];
