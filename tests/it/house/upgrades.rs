//! Databases that earlier versions of the schema left, with data in them: brought up to date by a start, with nothing lost, and
//! left alone by a version that is too old for them.

use crate::bucket::on_s3;
use crate::fixtures::{frame, publish_document};
use crate::place::{Place, Records, on_postgres, schema_versions};
use crate::server::{Server, binary, run_on};
use data_encoding::HEXLOWER;
use matchmark_core::document::Canonical;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use std::process::{Command, Stdio};
use std::sync::Arc;

const AT: &str = "2026-03-01T09:30:00.000Z";
const FILE: &[u8] = b"%PDF-1.7 as an earlier version issued it";
/// Until when what was begun then is good.
const LONG: &str = "2126-03-01T09:30:00.000Z";

fn hash(bytes: impl AsRef<[u8]>) -> String {
    HEXLOWER.encode(&Sha256::digest(bytes))
}

/// A database as some version of the schema left it.
struct Past {
    records: Records,
    acts: i64,
    last_act: String,
}

impl Past {
    async fn run(&mut self, statement: &str) {
        let done = self.records.run(statement.to_owned()).await;
        done.unwrap_or_else(|error| panic!("{error}: {statement}"));
    }

    /// Puts an act on record, chained as it is documented.
    async fn act(&mut self, actor: &str, action: &str, subject: &str) {
        self.acts += 1;
        let (number, previous) = (self.acts, self.last_act.clone());
        self.last_act = hash(format!("matchmark-audit/1\n{previous}\n{number}\n{AT}\n{actor}\n{action}\n{subject}\n"));
        let row = format!("({number}, '{AT}', '{actor}', '{action}', '{subject}', '{previous}', '{}')", self.last_act);
        self.run(&format!("INSERT INTO audit VALUES {row}")).await;
    }

    async fn token(&mut self, id: &str, role: &str, kit: Option<&str>, by: &str) {
        let kit = kit.map_or_else(|| "NULL".to_owned(), |kit| format!("'{kit}'"));
        let row = format!("('{id}', '{}', '{role}', {kit}, '{AT}')", hash(token(id)));
        self.run(&format!("INSERT INTO tokens (id, sha256, role, kit, created_at) VALUES {row}")).await;
        self.act(by, "create-token", &format!("tokens/{id}")).await;
    }

    /// Publishes a document and returns its place in the chain.
    async fn publish(&mut self, number: u32, letter: &str, height: u32, previous: &str) -> String {
        let document = frame(height);
        let value: Value = serde_json::from_str(&document).unwrap();
        let sha256 = Canonical::of(&value).unwrap().sha256;
        let chain = hash(format!("matchmark-revision/1\n{previous}\n{letter}\n{sha256}\n{}\n", &AT[..10]));
        self.run(&format!(
            "INSERT INTO revisions (design, number, letter, change_note, acknowledged, document, document_sha256, \
             previous_chain, chain, published_at, published_by) VALUES ('frame', {number}, '{letter}', 'Of before.', '[]', \
             '{document}', '{sha256}', '{previous}', '{chain}', '{AT}', 'first')"
        ))
        .await;
        self.act("first", "publish-revision", &format!("designs/frame/revisions/{letter}")).await;
        chain
    }

    async fn kit(&mut self, serial: &str, letter: &str) {
        self.run(&format!("INSERT INTO kits (serial, design, revision, customer, created_at) VALUES ('{serial}', 'frame', '{letter}', 'c-1', '{AT}')")).await;
        self.act("first", "create-kit", &format!("kits/{serial}")).await;
    }

    /// What there was from the first version on.
    async fn begin(&mut self) {
        self.token("first", "publisher", None, "system").await;
        self.token("second", "publisher", None, "first").await;
        self.token("desk", "support", None, "first").await;
        self.run(&format!("INSERT INTO designs (id, name, created_at) VALUES ('frame', 'Test Frame', '{AT}')")).await;
        let draft = frame(908);
        let row = format!("('frame', '{draft}', '{}', '{AT}')", hash(&draft));
        self.run(&format!("INSERT INTO drafts (design, body, sha256, updated_at) VALUES {row}")).await;
        let chain = self.publish(1, "A", 900, "").await;
        self.publish(2, "B", 904, &chain).await;
        self.run("INSERT INTO customers (id, name, email) VALUES ('c-1', 'Ines Halvard', 'Ines@example.com')").await;
        for (serial, letter) in [("K-1", "A"), ("K-2", "B"), ("K-3", "A")] {
            self.kit(serial, letter).await;
        }
        self.token("builder", "builder", Some("K-1"), "desk").await;
        let sha256 = hash(FILE);
        let row = format!("('K-1', 1, 'frame', 'A', 'letter', '{sha256}', {}, '0.0.1', '{AT}', 'desk')", FILE.len());
        self.run(&format!("INSERT INTO packs (kit, number, design, revision, paper, sha256, size, engine, issued_at, issued_by) VALUES {row}")).await;
        self.act("desk", "issue-pack", &format!("kits/K-1/packs/1/{sha256}")).await;
        self.run(&format!("INSERT INTO downloads (kit, number, token, at) VALUES ('K-1', 1, 'builder', '{AT}')")).await;
        let answer = format!("('first', 'kits', 'once', '{}', '{{\"name\": \"Ines Halvard\"}}', '{AT}')", hash(""));
        self.run(&format!("INSERT INTO idempotency VALUES {answer}")).await;
    }

    /// What a version of the schema made possible.
    async fn add(&mut self, version: i64) {
        match version {
            1 => self.begin().await,
            2 => {
                self.run(&format!("INSERT INTO measurements (kit, number, gauge, value, at, token) VALUES ('K-3', 1, 'hoop', 1124.5, '{AT}', 'desk')")).await;
            }
            3 => {
                let save = frame(909);
                self.run(&format!("INSERT INTO draft_saves (design, number, body, sha256, saved_at, saved_by, source) VALUES ('frame', 2, '{save}', '{}', '{AT}', 'second', '')", hash(&save))).await;
                self.run(&format!("INSERT INTO revision_states (design, letter, number, state, reason, hazard, what_to_do, remedies, at, token) VALUES ('frame', 'A', 1, 'recalled', '', 'The posts can break.', 'Stop.', 'New posts.', '{AT}', 'first')")).await;
                self.run(&format!("INSERT INTO recall_acknowledgements (kit, design, letter, number, at, token) VALUES ('K-1', 'frame', 'A', 1, '{AT}', 'builder')")).await;
                self.run("UPDATE kits SET order_number = '2026-7' WHERE serial = 'K-2'").await;
                self.run(&format!("INSERT INTO kit_notes (kit, number, text, at, token) VALUES ('K-1', 1, 'Called once.', '{AT}', 'desk')")).await;
                self.run(&format!("INSERT INTO notices (design, number, from_revision, to_revision, class, text, at, token) VALUES ('frame', 1, 'A', 'B', 'mandatory', 'Posts grew.', '{AT}', 'first')")).await;
                self.run("INSERT INTO notice_groups (design, number, part, revision, choices, changes) VALUES ('frame', 1, 1, 'A', '{}', '')").await;
                self.run("INSERT INTO notice_kits (kit, design, number, part) VALUES ('K-1', 'frame', 1, 1)").await;
                self.run(&format!("INSERT INTO notices (design, number, from_revision, to_revision, class, text, at, token) VALUES ('frame', 2, 'A', 'B', 'mandatory', 'Posts grew again.', '{AT}', 'first')")).await;
                let work = work_in_words().to_string();
                self.run(&format!("INSERT INTO notice_groups (design, number, part, revision, choices, changes) VALUES ('frame', 2, 1, 'A', '{{}}', '{work}')")).await;
                self.run("INSERT INTO notice_kits (kit, design, number, part) VALUES ('K-1', 'frame', 2, 1)").await;
            }
            20 => {
                self.run(&format!("INSERT INTO pack_jobs (number, design, revision, created_at, created_by) VALUES (1, 'frame', 'B', '{AT}', 'desk')")).await;
                self.run("INSERT INTO pack_job_kits (job, kit, state) VALUES (1, 'K-2', 'waiting')").await;
            }
            21 => {
                let session = hash("mmw_of_before");
                self.run(&format!("INSERT INTO sessions (sha256, token, created_at, expires_at) VALUES ('{session}', 'builder', '{AT}', '{LONG}')")).await;
            }
            30 => {
                let frozen = Canonical::of(&serde_json::from_str(&frame(909)).unwrap()).unwrap().sha256;
                self.run(&format!("INSERT INTO draft_reviews (design, number, step, save, document_sha256, at, token) VALUES ('frame', 1, 'frozen', 2, '{frozen}', '{AT}', 'second')")).await;
            }
            31 => {
                self.run(&format!("INSERT INTO kit_holds (kit, number, reason, ask, at, token) VALUES ('K-3', 1, 'Not paid.', 'The supplier.', '{AT}', 'first')")).await;
            }
            42 => {
                self.run(&format!("INSERT INTO pack_numbers (kit, number, call, taken_at, taken_by, good_until) VALUES ('K-3', 1, '', '{AT}', 'desk', '{AT}')")).await;
            }
            46 => {
                self.run(&format!("INSERT INTO supplier_contacts (number, text, at, token) VALUES (1, 'kits@mail.example', '{AT}', 'first')")).await;
            }
            63 => {
                let facts = json!({"design": "frame", "revision": "B", "kit": "K-2"});
                self.run(&format!("INSERT INTO events (id, at, kind, subject, facts) VALUES (63, '{AT}', 'kit-registered', '/v1/kits/K-2', '{facts}')")).await;
            }
            // A version that knows persons puts them down itself.
            33 => self.run("UPDATE tokens SET follows = 'first' WHERE id = 'second'").await,
            _ => {}
        }
    }
}

/// What a notice asks, as it was kept while its sentences were.
fn work_in_words() -> Value {
    json!({
        "parts": [{
            "member": "post.L", "kind": "replace", "old_number": "F-101", "new_number": "F-103", "trims": [], "drill": [],
            "overall": 4.0, "words": "The old part is 4.0 mm too short.",
        }],
        "checks": [{"name": "width_post_from", "what": "width: from post.L to post.R", "old": 900.0, "new": 904.0}],
        "steps": [], "order": [{"member": "post.L", "old": 2, "new": 2, "same": false}], "trim_steps": [],
    })
}

/// What whoever was given this token shows.
fn token(id: &str) -> String {
    format!("mmx_of_{id}")
}

/// A place that was last worked on with this version of the schema.
async fn left_at(last: i64) -> Place {
    let place = Place::new();
    let records = place.open_new().await;
    let mut past = Past { records, acts: 0, last_act: String::new() };
    for version in schema_versions().filter(|version| *version <= last) {
        past.records.migrate_to(version).await;
        past.add(version).await;
    }
    std::fs::create_dir(place.path().join("blobs")).unwrap();
    place.plant_blob(&hash(FILE), FILE);
    place
}

/// Everything that was there, as the API tells it.
fn look(server: &Server, last: i64) {
    let get = |path: &str, by: &str| server.get(path, &token(by)).expect(200).json();
    let kit = get("/v1/kits/K-1", "builder");
    assert_eq!((&kit["revision"], &kit["customer"]["name"]), (&json!("A"), &json!("Ines Halvard")));
    let found = get("/v1/kits?customer=INES%40", "desk");
    assert_eq!(found["kits"].as_array().unwrap().len(), 3, "found by address: {found}");
    let file = server.get("/v1/kits/K-1/packs/1/file", &token("builder")).expect(200);
    assert_eq!(file.body, FILE);
    let pack = get("/v1/kits/K-1/packs/1", "builder");
    assert_eq!((&pack["paper"], &pack["downloads"], &pack["pages"]), (&json!("letter"), &json!(2), &json!(0)));
    let fetched = get("/v1/kits/K-1/downloads", "desk");
    assert_eq!(fetched["downloads"][1]["at"], AT);
    let revisions = get("/v1/designs/frame/revisions", "first");
    let letters: Vec<&str> =
        revisions["revisions"].as_array().unwrap().iter().map(|one| one["letter"].as_str().unwrap()).collect();
    assert_eq!(letters, ["A", "B"]);
    let document = server.get("/v1/designs/frame/revisions/A/document", &token("first")).expect(200);
    assert_eq!(String::from_utf8(document.body).unwrap(), frame(900));
    let draft = server.get("/v1/designs/frame/draft", &token("first")).expect(200);
    assert_eq!(String::from_utf8(draft.body).unwrap(), frame(if last < 3 { 908 } else { 909 }));
    assert_eq!(get("/v1/designs/frame/draft/saves/1", "first"), serde_json::from_str::<Value>(&frame(908)).unwrap());
    if last >= 2 {
        assert_eq!(get("/v1/kits/K-3/measurements/history", "desk")["measurements"][0]["value"], 1124.5);
    }
    if last >= 3 {
        assert_eq!(revisions["revisions"][0]["state"], "recalled");
        assert_eq!(get("/v1/kits/K-1/stop-sheets/A", "builder")["acknowledged_at"], AT);
        assert_eq!(get("/v1/kits?order_number=2026-7", "desk")["kits"][0]["serial"], "K-2");
        assert_eq!(get("/v1/kits/K-1/notes", "desk")["notes"][0]["text"], "Called once.");
        let notices = get("/v1/kits/K-1/notices", "builder");
        assert_eq!(notices["notices"][0]["text"], "Posts grew.");
        assert_eq!((notices["notices"][0].get("work"), &notices["notices"][1]["work"]), (None, &work_in_words()));
    }
    if last >= 20 {
        // What was left undone is done.
        while get("/v1/pack-jobs/1", "desk").get("finished_at").is_none() {
            std::thread::sleep(std::time::Duration::from_millis(50));
        }
        assert_eq!(get("/v1/pack-jobs/1/kits", "desk")["kits"][0]["state"], "issued");
    }
    if last >= 21 {
        let page = server.send("GET", "/kits/K-1", "", &[("cookie", "matchmark=mmw_of_before")], None).expect(200);
        let page = String::from_utf8(page.body).unwrap();
        let told = "<span lang=\"en\">The old part is 4.0 mm too short.</span>";
        assert!(page.contains(told) && page.contains("wrote this work down in English"), "{page}");
    }
    if last >= 30 {
        assert_eq!(get("/v1/designs/frame/draft/review", "first")["state"], "frozen");
    }
    if last >= 31 {
        assert_eq!(get("/v1/kits/K-3/holds", "desk")["holds"][0]["reason"], "Not paid.");
    }
    if last >= 42 {
        assert_eq!(get("/v1/kits/K-3/packs", "desk")["void"][0]["number"], 1);
    }
    if last >= 46 {
        assert_eq!(get("/v1/contact", "desk")["text"], "kits@mail.example");
    }
}

/// That work goes on where it was left.
fn go_on(server: &Server, last: i64) {
    let first = token("first");
    if last >= 30 {
        server.send("POST", "/v1/designs/frame/draft/thaw", &first, &[], None).expect(200);
    }
    assert_eq!(publish_document(server, &first, "frame", &frame(912)), "C");
    let pack = server.post("/v1/kits/K-2/packs", &token("desk"), &json!({})).expect(201).json();
    assert_eq!((&pack["revision"], &pack["number"]), (&json!("B"), &json!(if last >= 20 { 2 } else { 1 })));
    let parts = server.get("/v1/designs/frame/changes?from=B&to=C", &first).expect(200).json();
    assert!(parts["parts"].as_array().unwrap().iter().all(|part| part["kind"] == "replace"), "{parts}");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_database_of_every_earlier_schema_is_brought_up_to_date_with_all_that_is_in_it() {
    if on_s3() {
        return;
    }
    let versions: Vec<i64> = schema_versions().collect();
    for last in &versions[..versions.len() - 1] {
        let place = Arc::new(left_at(*last).await);
        let before = place.open().await.lines("SELECT hash FROM audit ORDER BY number").await;
        let server = Server::start_in(Arc::clone(&place));
        assert!(!server.printed.contains("token"), "schema {last}: whoever has a token needs no new one");
        let copy = place.path().join(format!("before-upgrade/schema-{last}.db"));
        assert_eq!(copy.exists(), !on_postgres(), "schema {last}");
        look(&server, *last);
        let mut records = place.open().await;
        let after = records.lines("SELECT hash FROM audit ORDER BY number").await;
        assert_eq!(after[..before.len()], before, "schema {last}");
        let follows = records
            .lines("SELECT id || ' ' || COALESCE(follows, '') FROM tokens WHERE role = 'publisher' ORDER BY id")
            .await;
        assert_eq!(follows, ["first ", "second first"], "schema {last}: one made the other");
        let answers = records.lines("SELECT response FROM idempotency WHERE route = 'kits'").await;
        assert!(answers.is_empty(), "schema {last}: answers that name people are gone");
        go_on(&server, *last);
        let found = run_on(&place, &["verify"]);
        assert!(found.status.success(), "schema {last}: {}", String::from_utf8_lossy(&found.stdout));
        let server = Server::start_in(server.stop());
        server.get("/readyz", "").expect(200);
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn what_was_there_before_is_kept_until_somebody_is_erased() {
    if on_postgres() || on_s3() {
        return;
    }
    let fresh = Server::start().stop();
    assert!(!fresh.path().join("before-upgrade").exists(), "of nothing there is nothing to keep");
    let place = Arc::new(left_at(3).await);
    let database = place.path().join("matchmark.db");
    let folder = place.path().join("before-upgrade");
    let steps = "SELECT CAST(MAX(version) AS TEXT) FROM _sqlx_migrations";
    let names = "SELECT name FROM customers";

    // Without a copy nothing is changed.
    std::fs::write(&folder, "in the way").unwrap();
    let refused = run_on(&place, &["serve", "--listen", "127.0.0.1:0", "--metrics-listen", "off"]);
    assert_eq!(refused.status.code(), Some(1));
    assert_eq!(place.open().await.lines(steps).await, ["3"]);
    std::fs::remove_file(&folder).unwrap();

    let server = Server::start_in(Arc::clone(&place));
    server.post("/v1/designs", &token("first"), &json!({"id": "lost", "name": "Lost"})).expect(201);
    server.stop();
    assert_ne!(place.open().await.lines(steps).await, ["3"]);
    // The way back, as it is documented.
    for beside in ["matchmark.db-wal", "matchmark.db-shm"] {
        let _ = std::fs::remove_file(place.path().join(beside));
    }
    std::fs::rename(folder.join("schema-3.db"), &database).unwrap();
    let mut records = place.open().await;
    assert_eq!(records.lines(steps).await, ["3"]);
    assert_eq!(records.lines(names).await, ["Ines Halvard"]);
    assert_eq!(records.lines("SELECT id FROM designs").await, ["frame"]);
    drop(records);

    let server = Server::start_in(Arc::clone(&place));
    assert!(folder.join("schema-3.db").exists());
    server.post("/v1/customers/c-1/erasure", &token("first"), &json!({})).expect(200);
    assert!(!folder.exists(), "whoever was erased is in it");
}

#[tokio::test(flavor = "multi_thread")]
async fn an_upgrade_that_was_killed_on_its_way_is_finished_by_the_next_start() {
    if on_s3() {
        return;
    }
    let last = schema_versions().last().unwrap();
    for seen in [4, 12, 20, 28, last] {
        let place = Arc::new(left_at(3).await);
        let mut records = place.open().await;
        let mut upgrading = Command::new(binary())
            .args(["serve", "--listen", "127.0.0.1:0", "--metrics-listen", "off"])
            .args(place.options())
            .envs(place.environment())
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        let so_far = "SELECT CAST(MAX(version) AS TEXT) FROM _sqlx_migrations";
        while records.lines(so_far).await[0].parse::<i64>().unwrap() < seen {
            assert!(upgrading.try_wait().unwrap().is_none(), "it ended before step {seen}");
        }
        upgrading.kill().unwrap();
        upgrading.wait().unwrap();
        let server = Server::start_in(Arc::clone(&place));
        assert_eq!(records.lines(so_far).await, [last.to_string()]);
        look(&server, 3);
        go_on(&server, 3);
        let found = run_on(&place, &["verify"]);
        assert!(found.status.success(), "killed at {seen}: {}", String::from_utf8_lossy(&found.stdout));
    }
}

#[tokio::test]
async fn a_database_of_a_later_version_is_left_alone() {
    let place = Server::start().stop();
    let later = if on_postgres() {
        "INSERT INTO _sqlx_migrations (version, description, success, checksum, execution_time) VALUES (9999, 'later', true, '\\x00', 0)"
    } else {
        "INSERT INTO _sqlx_migrations (version, description, success, checksum, execution_time) VALUES (9999, 'later', true, x'00', 0)"
    };
    place.open().await.execute(later).await.unwrap();
    for command in [&["serve", "--listen", "127.0.0.1:0", "--metrics-listen", "off"][..], &["verify"], &["sweep"]] {
        let done = run_on(&place, command);
        let said = String::from_utf8_lossy(&done.stderr);
        assert_eq!(done.status.code(), Some(3), "{command:?}: {said}");
        assert!(said.contains("step 9999") && said.contains("later version"), "{said}");
    }
}
