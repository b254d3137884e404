//! The signed status of a design: what the service says, and what is refused without a network.

use crate::fixtures::{frame, publish_document, recall, two_kits};
use crate::server::{Server, binary, run_on};
use data_encoding::HEXLOWER;
use matchmark_core::seal::SealKey;
use matchmark_core::seal::{CurrentRevision, DesignStatus, MOST_STATUS_BYTES, STATUS_FORMAT, SignedStatus};
use serde_json::{Value, json};
use std::path::Path;
use std::process::{Command, Output};
use time::format_description::well_known::Rfc3339;
use time::{Duration, OffsetDateTime};

const PATH: &str = "/v1/designs/frame/status";

fn keys(server: &Server) -> (String, String) {
    let keys = server.get("/v1/public-key", "").expect(200).json();
    let text = |name: &str| keys[name].as_str().unwrap().to_owned();
    (text("public_key"), text("status_public_key"))
}

#[test]
fn it_follows_what_becomes_of_revisions_and_names_no_kit() {
    let kits = two_kits();
    let read = || kits.server.get(PATH, "").expect(200).json()["signed"].clone();
    let first = read();
    assert_eq!((&first["version"], &first["current"]["letter"]), (&json!(2), &json!("B")));
    let revision = kits.server.get("/v1/designs/frame/revisions/B", &kits.support).json();
    assert_eq!(first["current"]["document_sha256"], revision["document_sha256"]);
    let reason = json!({"reason": "The posts do not fit."});
    kits.server.post("/v1/designs/frame/revisions/B/withdrawal", &kits.publisher, &reason).expect(200);
    recall(&kits, "A");
    let after = read();
    assert_eq!(after["version"], 4);
    assert_eq!(
        (&after["current"], &after["withdrawn"], &after["recalled"]),
        (&Value::Null, &json!(["B"]), &json!(["A"]))
    );
    publish_document(&kits.server, &kits.publisher, "frame", &frame(910));
    let last = read();
    assert_eq!((&last["version"], &last["current"]["letter"]), (&json!(5), &json!("C")));
    let time = |name: &str| OffsetDateTime::parse(last[name].as_str().unwrap(), &Rfc3339).unwrap();
    assert_eq!(time("expires") - time("issued"), Duration::days(7));
    assert!(time("issued") <= OffsetDateTime::now_utc());
    let whole = kits.server.get(PATH, "").expect(200).body;
    let whole = String::from_utf8(whole).unwrap();
    for private in ["K-1", "K-2", "Builder", "builder@example.com"] {
        assert!(!whole.contains(private), "{private} in {whole}");
    }
}

#[test]
fn caches_may_keep_it_and_what_was_never_published_is_nothing() {
    let kits = two_kits();
    let answer = kits.server.get(PATH, "").expect(200);
    assert_eq!(answer.header("cache-control"), "public, max-age=60, must-revalidate");
    let tag = [("if-none-match", answer.header("etag"))];
    let again = kits.server.send("GET", PATH, "", &tag, None);
    // Unless an hour began in between, which says the same anew.
    assert!(again.status == 304 || again.status == 200);
    kits.server.post("/v1/designs", &kits.publisher, &json!({"id": "secret", "name": "Secret"})).expect(201);
    let look = |path: &str| {
        let mut problem = kits.server.get(path, "").problem(404, "not-found");
        problem.as_object_mut().unwrap().remove("request_id");
        problem
    };
    assert_eq!(look("/v1/designs/secret/status"), look("/v1/designs/none/status"));
}

#[test]
fn a_key_of_its_own_signs_it_where_one_is_given() {
    let common = two_kits();
    let (pages, status) = keys(&common.server);
    assert_eq!(pages, status);
    let secret = HEXLOWER.encode(&[3; 32]);
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("status-key");
    std::fs::write(&file, format!("{secret}\n")).unwrap();
    let place = common.server.stop();
    let own = ["--status-key-file", file.to_str().unwrap()];
    let adopted = run_on(&place, &[&["adopt-key"], &own[..]].concat());
    assert!(adopted.status.success(), "{}", String::from_utf8_lossy(&adopted.stderr));
    let server = Server::start_in_with(place, &own);
    let (pages_now, status) = keys(&server);
    assert_eq!(pages_now, pages);
    assert_eq!(status, SealKey::from_hex(&secret).unwrap().public().hex());
    let body = server.get(PATH, "").expect(200).body;
    std::fs::write(folder.path().join("status.json"), &body).unwrap();
    let said = verify(folder.path(), &status, &["--design", "frame"]);
    assert!(said.contains("revision B is current"), "{said}");
    assert!(verify(folder.path(), &pages, &[]).starts_with("matchmark: status-signature-does-not-fit"));
}

/// Checks `status.json` in a folder and returns what is said, be it on standard output or on standard error.
fn verify(folder: &Path, key: &str, options: &[&str]) -> String {
    let mut command = Command::new(binary());
    command.args(["verify", "--status", "status.json", "--public-key", key]).args(options).current_dir(folder);
    let Output { status, stdout, stderr } = command.output().unwrap();
    assert_eq!(status.success(), stderr.is_empty());
    assert!(status.success() || status.code() == Some(1), "{status:?}");
    String::from_utf8([stdout, stderr].concat()).unwrap()
}

fn key() -> SealKey {
    SealKey::new([7; 32])
}

/// A status issued so many days ago.
fn status(version: u32, age: Duration) -> DesignStatus {
    let issued = OffsetDateTime::now_utc() - age;
    let said = |time: OffsetDateTime| time.format(&Rfc3339).unwrap();
    DesignStatus {
        format: STATUS_FORMAT.to_owned(),
        design: "frame".to_owned(),
        version,
        issued: said(issued),
        expires: said(issued + Duration::days(7)),
        current: Some(CurrentRevision { letter: "B".to_owned(), document_sha256: "ab".repeat(32) }),
        withdrawn: Vec::new(),
        recalled: vec!["A".to_owned()],
    }
}

fn signed(status: DesignStatus) -> Vec<u8> {
    serde_json::to_vec(&SignedStatus::by(&key(), status)).unwrap()
}

/// What is brought to someone who has seen version 5, and the code that it is refused with.
fn cases() -> Vec<(&'static str, Vec<u8>)> {
    let good = || status(6, Duration::hours(1));
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    let mut not_text = signed(good());
    not_text[20] = 0xff;
    let truncated = signed(good());
    let large = text(signed(good())).replacen('{', &format!("{{{}", " ".repeat(MOST_STATUS_BYTES)), 1);
    let other_key = SignedStatus::by(&SealKey::new([8; 32]), good());
    let changed = text(signed(good())).replace("\"recalled\":[\"A\"]", "\"recalled\":[]");
    let twice = text(signed(good())).replacen("\"version\":6", "\"version\":6,\"version\":7", 1);
    vec![
        ("status-too-large", large.into_bytes()),
        ("status-not-text", not_text),
        ("status-truncated", truncated[..truncated.len() / 2].to_vec()),
        ("status-truncated", Vec::new()),
        ("status-not-readable", b"{\"kits\": []}".to_vec()),
        ("status-not-readable", twice.into_bytes()),
        ("status-not-readable", signed(DesignStatus { expires: "soon".to_owned(), ..good() })),
        ("status-form-unknown", signed(DesignStatus { format: "matchmark-status/2".to_owned(), ..good() })),
        ("status-signature-does-not-fit", serde_json::to_vec(&other_key).unwrap()),
        ("status-signature-does-not-fit", changed.into_bytes()),
        ("status-of-another-design", signed(DesignStatus { design: "other".to_owned(), ..good() })),
        ("status-expired", signed(status(6, Duration::days(7) + Duration::minutes(1)))),
        ("status-lasts-too-long", signed(status(6, Duration::hours(-1)))),
        ("status-older-than-seen", signed(status(4, Duration::hours(1)))),
        ("status-contradicts-seen", signed(DesignStatus { recalled: Vec::new(), ..status(5, Duration::hours(1)) })),
    ]
}

#[test]
fn each_way_of_deceiving_is_refused_for_its_own_reason_and_leaves_what_was_seen() {
    let folder = tempfile::tempdir().unwrap();
    let public = key().public().hex();
    let bring = |bytes: &[u8]| {
        std::fs::write(folder.path().join("status.json"), bytes).unwrap();
        verify(folder.path(), &public, &["--seen", "seen.json"])
    };
    let seen = folder.path().join("seen.json");
    // Refused the first time, nothing is seen.
    assert!(bring(&signed(status(9, Duration::days(8)))).contains("status-expired"));
    assert!(!seen.exists());
    assert!(bring(&signed(status(5, Duration::days(6)))).contains("version 5: revision B is current"));
    let kept = std::fs::read(&seen).unwrap();
    for (code, bytes) in cases() {
        let said = bring(&bytes);
        assert!(said.starts_with(&format!("matchmark: {code}: ")), "{said} instead of {code}");
        assert_eq!(std::fs::read(&seen).unwrap(), kept, "{code}");
    }
    // The same version said anew, and a later one.
    assert!(bring(&signed(status(5, Duration::hours(1)))).contains("recalled: A"));
    assert!(bring(&signed(status(6, Duration::hours(1)))).contains("version 6"));
    assert!(bring(&signed(status(5, Duration::ZERO))).contains("status-older-than-seen"));
    // What was kept by something else is not taken for what was seen.
    std::fs::write(&seen, "{}").unwrap();
    assert!(bring(&signed(status(7, Duration::ZERO))).contains("not the file that an earlier check wrote"));
    let other = verify(folder.path(), &public, &["--design", "other"]);
    assert!(other.contains("status-of-another-design"), "{other}");
}
