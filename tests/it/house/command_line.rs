//! The commands that need no server.

use crate::fixtures::{broken_frame, frame};
use crate::server::binary;
use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};
use tempfile::TempDir;

struct Folder(TempDir);

impl Folder {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    fn file(&self, name: &str, text: &str) -> PathBuf {
        let path = self.0.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    }

    fn run(&self, arguments: &[&str]) -> Output {
        let mut command = Command::new(binary());
        command.args(arguments).current_dir(self.0.path());
        command.output().unwrap()
    }
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

#[test]
fn check_is_content_with_a_clean_document() {
    let folder = Folder::new();
    folder.file("frame.json", &frame(900));
    let done = folder.run(&["check", "frame.json"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stdout));
    assert!(text(&done.stdout).contains("frame.json: 0 errors"));
}

#[test]
fn check_shows_an_error_at_its_place() {
    let folder = Folder::new();
    let document = broken_frame();
    folder.file("frame.json", &document);
    let done = folder.run(&["check", "frame.json"]);
    assert_eq!(done.status.code(), Some(1));
    let shown = text(&done.stdout);
    let (line, column) = document
        .lines()
        .enumerate()
        .find_map(|(index, line)| Some((index + 1, line.find("\"nowhere.L\"")? + 1)))
        .unwrap();
    assert!(shown.contains(&format!("frame.json:{line}:{column}")), "{shown}");
    assert!(shown.contains("error["), "{shown}");
    assert!(shown.contains("^^^^"), "{shown}");
}

#[test]
fn check_tells_a_file_that_cannot_be_read_from_one_with_errors() {
    let folder = Folder::new();
    let done = folder.run(&["check", "absent.json"]);
    assert_eq!(done.status.code(), Some(2));
    assert!(text(&done.stderr).contains("absent.json"));
    folder.file("noise.json", "not json");
    assert_eq!(folder.run(&["check", "noise.json"]).status.code(), Some(1));
}

#[test]
fn pack_draws_the_same_bytes_for_the_same_date() {
    let folder = Folder::new();
    folder.file("frame.json", &frame(900));
    let draw = |name: &str, date: &str| {
        let done = folder.run(&["pack", "frame.json", "-o", name, "--date", date]);
        assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
        std::fs::read(folder.0.path().join(name)).unwrap()
    };
    let first = draw("one.pdf", "2026-11-25");
    assert!(first.starts_with(b"%PDF-"));
    assert_eq!(first, draw("two.pdf", "2026-11-25"));
    assert_ne!(first, draw("three.pdf", "2026-11-26"));
}

#[test]
fn pack_refuses_what_it_cannot_draw() {
    let folder = Folder::new();
    folder.file("frame.json", &frame(900));
    folder.file("broken.json", &broken_frame());
    let code = |arguments: &[&str]| folder.run(arguments).status.code();
    assert_eq!(code(&["pack", "broken.json", "-o", "x.pdf"]), Some(1));
    assert_eq!(code(&["pack", "absent.json", "-o", "x.pdf"]), Some(2));
    assert_eq!(code(&["pack", "frame.json", "-o", "x.pdf", "--date", "25.11.2026"]), Some(2));
    assert_eq!(code(&["pack", "frame.json", "-o", "no/such/x.pdf"]), Some(1));
    assert!(!folder.0.path().join("x.pdf").exists());
}

#[test]
fn pack_takes_the_letters_that_publishing_gives_and_says_that_no_service_issued_it() {
    let folder = Folder::new();
    folder.file("frame.json", &frame(900));
    for wrong in ["7", "a", "I", "A1", ""] {
        let done = folder.run(&["pack", "frame.json", "-o", "x.pdf", "--revision", wrong]);
        assert_eq!(done.status.code(), Some(2), "{wrong}");
        assert!(text(&done.stderr).contains("letter"), "{}", text(&done.stderr));
    }
    assert!(!folder.0.path().join("x.pdf").exists());
    let done = folder.run(&["pack", "frame.json", "-o", "x.pdf", "--revision", "AB", "--manifest", "x.json"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let account = std::fs::read_to_string(folder.0.path().join("x.json")).unwrap();
    assert!(account.contains("issued by no service"), "{account}");
}

#[test]
fn pack_says_why_it_was_not_drawn() {
    let folder = Folder::new();
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/../server/demo/rev_b.json");
    let done = folder.run(&["pack", demo, "-o", "x.pdf", "--measured", "hoop_spread=5000"]);
    assert_eq!(done.status.code(), Some(1));
    let said = text(&done.stderr);
    assert!(!said.contains("the design has errors") && said.contains("no pack was drawn: "), "{said}");
    let end = said.rsplit("no pack was drawn: ").next().unwrap();
    assert!(end.contains("hoop_spread") && end.contains("5000"), "{said}");
}

#[test]
fn joint_reads_standard_input() {
    let mut child =
        Command::new(binary()).args(["joint", "-"]).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    let mut stdin = child.stdin.take().unwrap();
    stdin.write_all(b"{\"cases\": []}").unwrap();
    drop(stdin);
    let done = child.wait_with_output().unwrap();
    assert_eq!(done.status.code(), Some(0));
    let answer: serde_json::Value = serde_json::from_slice(&done.stdout).unwrap();
    assert_eq!(answer["results"], serde_json::json!([]));
}

#[test]
fn joint_refuses_what_is_no_case() {
    let folder = Folder::new();
    folder.file("noise.json", "not json");
    let done = folder.run(&["joint", "noise.json"]);
    assert_eq!(done.status.code(), Some(1));
    assert!(!done.stderr.is_empty());
    assert_eq!(folder.run(&["joint", "absent.json"]).status.code(), Some(2));
}

/// A slip of the hand must not cost the only copy of a design or a key.
#[test]
fn a_pack_is_not_written_over_what_it_is_made_from() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    std::fs::write(at("frame.json"), frame(900)).unwrap();
    let (design, pack, key) = (at("frame.json"), at("pack.pdf"), at("signing.key"));
    let made = Command::new(binary()).args(["key", &key]).output().unwrap();
    assert_eq!(made.status.code(), Some(0));
    let secret = std::fs::read_to_string(&key).unwrap();
    let signed = ["pack", &design, "-o", &pack, "--signing-key", &key];
    for slip in [
        vec!["pack", &design, "-o", &design],
        [&signed[..], &["--manifest", &key]].concat(),
        [&signed[..], &["--manifest", &pack]].concat(),
    ] {
        let done = Command::new(binary()).args(&slip).output().unwrap();
        let said = String::from_utf8_lossy(&done.stderr).into_owned();
        assert_eq!(done.status.code(), Some(2), "{slip:?}: {said}");
        assert!(said.contains("is named twice"), "{said}");
    }
    assert_eq!(std::fs::read_to_string(&design).unwrap(), frame(900));
    assert_eq!(std::fs::read_to_string(&key).unwrap(), secret);
    let done = Command::new(binary()).args(signed).output().unwrap();
    assert_eq!(done.status.code(), Some(0), "{}", String::from_utf8_lossy(&done.stderr));
}
