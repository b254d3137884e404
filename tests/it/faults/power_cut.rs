//! A power cut at any moment: what the system calls of the server leave on a disk that keeps only what was synchronised, and of the
//! rest anything. `MATCHMARK_POWER_CUTS` says how many states are looked at.

use super::wanted;
use crate::bucket::on_s3;
use crate::fixtures::{create_design, frame, new_kit, publish_document};
use crate::place::{Place, on_postgres};
use crate::server::Server;
use serde_json::{Map, Value, json};
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::time::Duration;

const CALLS: &str =
    "trace=openat,pwrite64,write,writev,sendto,fsync,fdatasync,ftruncate,rename,renameat,renameat2,unlink,unlinkat";
const SCRIPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/it/faults/power_cut.py");

fn strace(log: &Path) -> Vec<String> {
    let mut command: Vec<String> =
        ["strace", "-D", "-f", "-y", "-xx", "-s", "100000000", "-e", CALLS, "-o"].map(str::to_owned).into();
    command.push(log.to_str().unwrap().to_owned());
    command
}

fn python() -> Command {
    Command::new(std::env::var("MATCHMARK_PYTHON").unwrap_or_else(|_| "python3".to_owned()))
}

/// Waits until all that a traced process did is in the log.
fn is_over(log: &Path, id: u32) {
    let end = format!("{id} +++ ");
    let ended = |line: &str| {
        line.split_once(' ').is_some_and(|(task, rest)| format!("{task} {}", rest.trim_start()).starts_with(&end))
    };
    while !fs::read_to_string(log).unwrap_or_default().lines().rev().take(50).any(ended) {
        std::thread::sleep(Duration::from_millis(50));
    }
}

/// Every file of a folder and of those in it.
fn copy(from: &Path, to: &Path) {
    fs::create_dir(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        if entry.file_type().unwrap().is_dir() {
            copy(&entry.path(), &to.join(entry.file_name()));
        } else {
            fs::copy(entry.path(), to.join(entry.file_name())).unwrap();
        }
    }
}

/// What the states show that a log allows.
fn states(folder: &Path, directory: &Path, log: &Path, expected: &Map<String, Value>, count: usize) -> Value {
    fs::write(folder.join("expected.json"), serde_json::to_vec(expected).unwrap()).unwrap();
    let found = python()
        .arg(SCRIPT)
        .args([log, &folder.join("before"), directory, &folder.join("expected.json")])
        .arg(count.to_string())
        .stderr(Stdio::inherit())
        .output()
        .unwrap();
    assert!(found.status.success());
    serde_json::from_slice(&found.stdout).unwrap()
}

fn count(found: &Value, name: &str) -> u64 {
    found[name].as_u64().unwrap()
}

/// A log without what was synchronised of files whose path has this in it.
fn without_sync(log: &Path, of: &str) -> std::path::PathBuf {
    let hex: String = of.bytes().map(|byte| format!("\\x{byte:02x}")).collect();
    let text = fs::read_to_string(log).unwrap();
    let kept: Vec<&str> = text.lines().filter(|line| !(line.contains("fsync(") && line.contains(&hex))).collect();
    let other = log.with_extension(of.trim_start_matches('-'));
    fs::write(&other, kept.join("\n")).unwrap();
    other
}

/// Works on a traced server and returns what must be there for each acknowledgement.
fn work(server: &Server, token: &str) -> Map<String, Value> {
    let mut expected = Map::new();
    let mut send = |method: &str, path: &str, body: Option<String>, query: &dyn Fn(&Value) -> String| {
        let id = format!("ack-{}", expected.len() + 1);
        let headers = [("x-request-id", id.as_str()), ("if-match", "*")];
        let answer = server.send(method, path, token, &headers, body.as_deref());
        assert!([200, 201, 204].contains(&answer.status), "{answer:?}");
        let said = if answer.body.is_empty() { json!(answer.header("etag").trim_matches('"')) } else { answer.json() };
        expected.insert(id, json!(query(&said)));
        said
    };
    for number in 0..24 {
        let serial = format!("P-{number}");
        let kit = send("POST", "/v1/kits", Some(new_kit(&serial, "frame", "A").to_string()), &|_| {
            format!("SELECT COUNT(*) FROM kits WHERE serial = '{serial}'")
        });
        if number % 4 == 0 {
            send("POST", &format!("/v1/kits/{serial}/packs"), Some("{}".to_owned()), &|pack| {
                format!(
                    "SELECT COUNT(*) FROM packs WHERE kit = '{serial}' AND sha256 = {}",
                    pack["sha256"].to_string().replace('"', "'")
                )
            });
            send("PUT", "/v1/designs/frame/draft", Some(frame(910 + number)), &|tag| {
                format!("SELECT COUNT(*) FROM draft_saves WHERE sha256 = {}", tag.to_string().replace('"', "'"))
            });
        }
        // The log of the database is emptied on the way, so that cuts fall into that too.
        if number == 12 {
            let customer = kit["customer_id"].as_str().unwrap();
            send("POST", &format!("/v1/customers/{customer}/erasure"), None, &|_| {
                format!("SELECT COUNT(*) FROM customers WHERE id = '{customer}' AND erased_at IS NOT NULL")
            });
        }
    }
    expected
}

#[test]
fn what_was_acknowledged_is_there_after_a_power_cut() {
    if on_postgres() || on_s3() {
        return;
    }
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    publish_document(&server, &token, "frame", &frame(900));
    let place: Arc<Place> = server.stop();
    let folder = tempfile::tempdir().unwrap();
    copy(place.path(), &folder.path().join("before"));
    let log = folder.path().join("log");
    let server = Server::start_under(&strace(&log), Arc::clone(&place));
    let expected = work(&server, &token);
    let id = server.id();
    server.stop();
    is_over(&log, id);

    let wanted = wanted("MATCHMARK_POWER_CUTS", 2000);
    let look = |log: &Path, count: usize| states(folder.path(), place.path(), log, &expected, count);
    let found = look(&log, wanted);
    assert_eq!(count(&found, "acknowledged"), expected.len() as u64, "{found}");
    assert!(count(&found, "states") >= wanted as u64 / 2, "{found}");
    assert_eq!([count(&found, "lost"), count(&found, "corrupt"), count(&found, "blobs")], [0, 0, 0], "{found}");

    // That it would be seen: the same calls on a disk that is told nothing of one of the files.
    let found = look(&without_sync(&log, "-wal"), 200);
    assert!(count(&found, "lost") > 0, "{found}");
    let found = look(&without_sync(&log, "blobs"), 200);
    assert!(count(&found, "blobs") > 0, "{found}");
}

/// What SQLite promises of its settings, with the same statements by another program: in the write-ahead log FULL keeps what was
/// acknowledged and NORMAL does not (sqlite.org, "PRAGMA synchronous").
#[test]
fn with_less_than_full_synchronisation_it_would_be_lost() {
    if on_postgres() || on_s3() {
        return;
    }
    for (setting, loses) in [("FULL", false), ("NORMAL", true)] {
        let folder = tempfile::tempdir().unwrap();
        let directory = folder.path().join("data");
        fs::create_dir(&directory).unwrap();
        fs::create_dir(folder.path().join("before")).unwrap();
        let log = folder.path().join("log");
        let wrapper = strace(&log);
        let python = python().get_program().to_owned();
        let mut writer = Command::new(&wrapper[0])
            .args(&wrapper[1..])
            .arg(python)
            .args([SCRIPT, "write"])
            .arg(&directory)
            .arg(setting)
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        let id = writer.id();
        assert!(writer.wait().unwrap().success());
        is_over(&log, id);
        let expected =
            (0..60).map(|n| (format!("ack-{n}"), json!(format!("SELECT COUNT(*) FROM t WHERE n = {n}")))).collect();
        let found = states(folder.path(), &directory, &log, &expected, 200);
        assert_eq!(count(&found, "acknowledged"), 60, "{found}");
        assert_eq!(count(&found, "corrupt"), 0, "{setting}: {found}");
        assert_eq!(count(&found, "lost") > 0, loses, "{setting}: {found}");
    }
}
