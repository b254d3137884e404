//! A disk that refuses the N-th write, and one that is full. `MATCHMARK_FAULTS` says how many N are tried of each kind.

use super::wanted;
use crate::bucket::on_s3;
use crate::fixtures::{TwoKits, new_kit, two_kits, two_kits_on};
use crate::place::{Place, on_postgres};
use crate::server::{Answer, Server, run_on};
use serde_json::json;
use std::fs::{self, File};
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::Arc;

/// Makes system calls of a running server fail.
struct Injected {
    strace: Child,
    log: PathBuf,
}

impl Injected {
    /// From now on the `when` of these calls fails with this error, on files with this path when one is given.
    fn into(server: &Server, folder: &Path, fault: &Fault, when: &str) -> Self {
        let log = folder.join("injected");
        let mut command = Command::new("strace");
        command.args(["-f", "-p", &server.id().to_string(), "-o"]).arg(&log);
        command.args(["-e", &format!("trace={}", fault.call)]);
        command.args(["-e", &format!("inject={}:error={}:when={when}", fault.call, fault.error)]);
        if !fault.file.is_empty() {
            command.arg("-P").arg(server.data.path().join(fault.file));
        }
        let mut strace = command.stdin(Stdio::null()).stderr(Stdio::piped()).spawn().expect("strace");
        let mut told = BufReader::new(strace.stderr.take().unwrap()).lines();
        let attached = told.by_ref().map_while(Result::ok).find(|line| line.contains("attached"));
        assert!(attached.is_some(), "strace did not attach to the server");
        // It goes on to tell of threads that come and go.
        std::thread::spawn(move || told.for_each(drop));
        Self { strace, log }
    }

    /// Ends it and says how often a call failed.
    fn end(mut self) -> usize {
        assert!(Command::new("kill").args(["-INT", &self.strace.id().to_string()]).status().unwrap().success());
        self.strace.wait().unwrap();
        fs::read_to_string(&self.log).unwrap().matches("(INJECTED)").count()
    }
}

/// A kind of fault, what meets it, and how that is answered.
struct Fault {
    call: &'static str,
    error: &'static str,
    file: &'static str,
    /// True for a pack, false for a kit.
    pack: bool,
    status: u16,
    kind: &'static str,
    /// Whether the server ends, because it cannot know what is on the disk.
    ends: bool,
}

const WAL: &str = "matchmark.db-wal";

const FAULTS: &[Fault] = &[
    Fault { call: "pwrite64", error: "ENOSPC", file: WAL, pack: false, status: 507, kind: "no-room", ends: false },
    Fault { call: "pwrite64", error: "EIO", file: WAL, pack: false, status: 503, kind: "disk-failed", ends: false },
    Fault { call: "pwrite64", error: "ENOSPC", file: WAL, pack: true, status: 507, kind: "no-room", ends: false },
    Fault { call: "/^rename", error: "ENOSPC", file: "", pack: true, status: 507, kind: "no-room", ends: false },
    Fault { call: "/^rename", error: "EIO", file: "", pack: true, status: 503, kind: "disk-failed", ends: false },
    Fault { call: "fsync", error: "EIO", file: WAL, pack: false, status: 503, kind: "not-synced", ends: true },
    Fault { call: "fsync", error: "EIO", file: "blobs", pack: true, status: 503, kind: "not-synced", ends: true },
];

/// A creating call with a key of its own.
fn call(kits: &TwoKits, pack: bool, name: &str) -> Answer {
    let (path, body) = match pack {
        true => ("/v1/kits/K-1/packs".to_owned(), json!({})),
        false => ("/v1/kits".to_owned(), new_kit(&format!("F-{name}"), "frame", "A")),
    };
    let key = [("idempotency-key", name)];
    kits.server.send("POST", &path, &kits.publisher, &key, Some(&body.to_string()))
}

#[test]
fn a_write_that_fails_is_answered_as_failed_and_leaves_nothing() {
    if on_postgres() || on_s3() {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let mut kits = two_kits();
    let (mut met, tried) = (0, wanted("MATCHMARK_FAULTS", 5));
    for (number, fault) in FAULTS.iter().enumerate() {
        for step in 0..tried {
            // Close together first, then further apart, as far as there are so many calls.
            let nth = 1 + step * (step + 1) / 2;
            let name = format!("{number}-{nth}");
            let injected = Injected::into(&kits.server, folder.path(), fault, &nth.to_string());
            let answer = call(&kits, fault.pack, &name);
            if injected.end() == 0 {
                answer.expect(201);
                break;
            }
            met += 1;
            answer.problem(fault.status, fault.kind);
            if fault.ends {
                assert_eq!(kits.server.wait_for_end(), Some(1), "{name}: it ends, and not as if all were well");
                kits.server = Server::start_in(Arc::clone(&kits.server.data));
            }
            kits.server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200);
            // The same call again has its effect once.
            let again = call(&kits, fault.pack, &name).expect(201).json();
            assert_eq!(call(&kits, fault.pack, &name).expect(201).json(), again);
        }
    }
    assert!(met >= FAULTS.len(), "{met} faults");
    let found = run_on(&kits.server.data, &["verify"]);
    assert!(found.status.success(), "{}", String::from_utf8_lossy(&found.stdout));
}

/// A small disk of its own, taken away at the end.
struct SmallDisk(PathBuf);

impl SmallDisk {
    fn new(folder: &Path) -> Option<Self> {
        let place = folder.join("disk");
        fs::create_dir(&place).unwrap();
        let mounted = Command::new("mount").args(["-t", "tmpfs", "-o", "size=32m", "tmpfs"]).arg(&place).output();
        mounted.is_ok_and(|done| done.status.success()).then_some(Self(place))
    }

    /// Leaves so many bytes free and returns what takes up the rest.
    fn fill(&self, leave: usize) -> PathBuf {
        let filler = self.0.join("filler");
        let mut file = File::create(&filler).unwrap();
        let block = vec![0; 4096];
        while file.write_all(&block).is_ok() {}
        let length = file.metadata().unwrap().len();
        file.set_len(length.saturating_sub(leave as u64)).unwrap();
        filler
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        // At worst a little memory stays taken.
        let _ = Command::new("umount").args(["-l"]).arg(&self.0).status();
    }
}

#[test]
fn on_a_full_disk_reading_goes_on_and_writing_does_again_when_there_is_room() {
    if on_postgres() || on_s3() {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let Some(disk) = SmallDisk::new(folder.path()) else {
        eprintln!("no disk could be mounted here, so that none was filled");
        return;
    };
    let place = Arc::new(Place::within(&disk.0));
    let kits = two_kits_on(Server::start_in_with(place, &["--min-free-disk", "0"]));
    let file = kits.server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200).body;
    for (round, leave) in [0, 4096, 16_384, 40_960].into_iter().enumerate() {
        let filler = disk.fill(leave);
        let mut refused = 0;
        for step in 0..40 {
            let answer = call(&kits, step % 2 == 1, &format!("{round}-{step}"));
            if answer.status == 201 {
                continue;
            }
            let problem = answer.json();
            assert!([503, 507].contains(&answer.status), "{problem}");
            refused += 1;
            if refused > 4 {
                break;
            }
        }
        assert!(refused > 4, "round {round}: the disk was never full");
        assert_eq!(kits.server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200).body, file);
        kits.server.get("/v1/kits/K-2", &kits.support).expect(200);
        kits.server.get("/healthz", "").expect(200);
        fs::remove_file(filler).unwrap();
        for step in 0..2 {
            call(&kits, step % 2 == 1, &format!("AFTER-{round}-{step}")).expect(201);
        }
        kits.server.get("/readyz", "").expect(200);
    }
    let found = run_on(&kits.server.data, &["verify"]);
    assert!(found.status.success(), "{}", String::from_utf8_lossy(&found.stdout));
}
