//! A disk that refuses the N-th write, and one that is full. `MATCHMARK_FAULTS` says how many N are tried of each kind,
//! `MATCHMARK_FILLS` how often the disk is filled.

use super::wanted;
use crate::bucket::on_s3;
use crate::fixtures::{TwoKits, create_design, frame, new_kit, put_draft, two_kits, two_kits_on};
use crate::place::{Place, on_postgres};
use crate::server::{Answer, Server, run_on};
use serde_json::{Value, json};
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

    /// Ends it, unless it ended with the server, and says how often a call failed.
    fn end(mut self, server_ended: bool) -> usize {
        if !server_ended {
            assert!(Command::new("kill").args(["-INT", &self.strace.id().to_string()]).status().unwrap().success());
        }
        self.strace.wait().unwrap();
        fs::read_to_string(&self.log).unwrap().matches("(INJECTED)").count()
    }
}

/// What meets a fault.
#[derive(Clone, Copy)]
enum Work {
    Kit,
    Pack,
    Publish,
    Erase,
}

/// A kind of fault, what meets it, and how that is answered.
struct Fault {
    call: &'static str,
    error: &'static str,
    file: &'static str,
    work: Work,
    status: u16,
    kind: &'static str,
    /// Whether the server ends, because it cannot know what is on the disk.
    ends: bool,
}

const WAL: &str = "matchmark.db-wal";

const fn fault(call: &'static str, error: &'static str, file: &'static str, work: Work) -> Fault {
    Fault { call, error, file, work, status: 507, kind: "no-room", ends: false }
}

const FAULTS: &[Fault] = &[
    fault("pwrite64", "ENOSPC", WAL, Work::Kit),
    fault("pwrite64", "ENOSPC", WAL, Work::Pack),
    fault("pwrite64", "ENOSPC", WAL, Work::Publish),
    fault("pwrite64", "ENOSPC", WAL, Work::Erase),
    fault("/^rename", "ENOSPC", "", Work::Pack),
    Fault { status: 503, kind: "disk-failed", ..fault("pwrite64", "EIO", WAL, Work::Kit) },
    Fault { status: 503, kind: "disk-failed", ..fault("/^rename", "EIO", "", Work::Pack) },
    Fault { status: 503, kind: "not-synced", ends: true, ..fault("fsync", "EIO", WAL, Work::Publish) },
    Fault { status: 503, kind: "not-synced", ends: true, ..fault("fsync", "EIO", "blobs", Work::Pack) },
];

/// A call that can be sent again, and the status that says that it was done.
struct Call {
    path: String,
    key: String,
    body: Option<String>,
    done: u16,
}

impl Work {
    /// Makes everything ready for it.
    fn prepare(self, kits: &TwoKits, name: &str) -> Call {
        let call = |path: &str, body: Value| Call {
            path: path.to_owned(),
            key: name.to_owned(),
            body: Some(body.to_string()),
            done: 201,
        };
        let serial = format!("F-{name}");
        match self {
            Self::Kit => call("/v1/kits", new_kit(&serial, "frame", "A")),
            Self::Pack => call("/v1/kits/K-1/packs", json!({})),
            Self::Publish => {
                // Another height each time, so that there is something new in it.
                let height: u32 = 1000 + name.bytes().map(u32::from).sum::<u32>();
                create_design(&kits.server, &kits.publisher, &serial.to_lowercase());
                put_draft(&kits.server, &kits.publisher, &serial.to_lowercase(), &frame(height));
                call(&format!("/v1/designs/{}/revisions", serial.to_lowercase()), json!({"change_note": name}))
            }
            Self::Erase => {
                let mut kit = new_kit(&serial, "frame", "A");
                kit["customer"]["name"] = json!(name);
                let kit = kits.server.post("/v1/kits", &kits.publisher, &kit).expect(201).json();
                let path = format!("/v1/customers/{}/erasure", kit["customer_id"].as_str().unwrap());
                Call { body: None, done: 200, ..call(&path, Value::Null) }
            }
        }
    }
}

impl Call {
    fn send(&self, kits: &TwoKits) -> Answer {
        let headers = [("idempotency-key", &*self.key), ("if-match", "*")];
        kits.server.send("POST", &self.path, &kits.publisher, &headers, self.body.as_deref())
    }
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
        // All from the first on, then one alone: close together first, then further apart, as far as there are so many calls.
        let single = (0..tried).map(|step| (1 + step * (step + 1) / 2).to_string());
        for when in std::iter::once("1+".to_owned()).chain(single) {
            let name = format!("{number}-{}", when.replace('+', "A"));
            let call = fault.work.prepare(&kits, &name);
            let injected = Injected::into(&kits.server, folder.path(), fault, &when);
            let answer = call.send(&kits);
            // It ends, and not as if all were well.
            let ended = fault.ends && answer.status == fault.status;
            if ended {
                assert_eq!(kits.server.wait_for_end(), Some(1), "{name}");
            }
            if injected.end(ended) == 0 {
                answer.expect(call.done);
                break;
            }
            met += 1;
            answer.problem(fault.status, fault.kind);
            if ended {
                kits.server = Server::start_in(Arc::clone(&kits.server.data));
            }
            kits.server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200);
            // The same call again has its effect once.
            let again = call.send(&kits).expect(call.done).json();
            assert_eq!(call.send(&kits).expect(call.done).json(), again);
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
    let leave = [0, 4096, 16_384, 40_960].into_iter().cycle().take(wanted("MATCHMARK_FILLS", 4));
    for (round, leave) in leave.enumerate() {
        let filler = disk.fill(leave);
        let mut refused = 0;
        for step in 0..40 {
            let work = if step % 2 == 1 { Work::Pack } else { Work::Kit };
            let answer = work.prepare(&kits, &format!("{round}-{step}")).send(&kits);
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
        let backup = disk.0.join("backup");
        let taken = run_on(&kits.server.data, &["backup", "--to", backup.to_str().unwrap()]);
        assert!(!taken.status.success() && !backup.exists(), "half a backup has not the name of one");
        fs::remove_file(filler).unwrap();
        for work in [Work::Kit, Work::Pack, Work::Publish] {
            work.prepare(&kits, &format!("AFTER-{round}")).send(&kits).expect(201);
        }
        kits.server.get("/readyz", "").expect(200);
    }
    let found = run_on(&kits.server.data, &["verify"]);
    assert!(found.status.success(), "{}", String::from_utf8_lossy(&found.stdout));
}
