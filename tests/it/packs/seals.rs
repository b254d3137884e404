//! Seals as the holder of a file or of a page meets them: what `verify` answers, the codes of pages that belong to no pack, and files
//! known by their hash.

use crate::fixtures::{TwoKits, a_recall, frame, publish_document, two_kits};
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use std::path::Path;
use std::process::Command;

/// Exit code of `matchmark verify`, and what it says as JSON.
fn verify(kits: &TwoKits, file: &Path, more: &[&str]) -> (Option<i32>, Value) {
    let keys = kits.server.get("/v1/public-key", "").expect(200).json();
    verify_with(keys["public_key"].as_str().unwrap(), file, more)
}

fn verify_with(key: &str, file: &Path, more: &[&str]) -> (Option<i32>, Value) {
    let mut command = Command::new(crate::server::binary());
    command.arg("verify").arg(file).args(["--json", "--public-key", key]).args(more);
    let output = command.output().unwrap();
    (output.status.code(), serde_json::from_slice(&output.stdout).unwrap_or(Value::Null))
}

/// The codes of a file's pages: each stands in a stream of its own that is not packed.
pub fn codes(file: &[u8]) -> Vec<String> {
    let starts = (0..file.len()).filter(|at| file[*at..].starts_with(b"/P/"));
    let of =
        |at: usize| file[at + 3..].iter().take_while(|byte| byte.is_ascii_alphanumeric()).map(|byte| char::from(*byte));
    starts.map(|at| of(at).collect::<String>()).filter(|code| code.len() > 100).collect()
}

/// The same in words, with what it says where something is wrong.
fn verify_in_words(kits: &TwoKits, what: &str, more: &[&str]) -> (Option<i32>, String) {
    let keys = kits.server.get("/v1/public-key", "").expect(200).json();
    let mut command = Command::new(crate::server::binary());
    command.args(["verify", what, "--public-key", keys["public_key"].as_str().unwrap()]).args(more);
    let output = command.output().unwrap();
    let said = [output.stdout, output.stderr].concat();
    (output.status.code(), String::from_utf8(said).unwrap())
}

fn said(kits: &TwoKits, code: &str) -> Value {
    kits.server.get(&format!("/v1/pages/{code}"), "").expect(200).json()
}

fn sha256(bytes: &[u8]) -> String {
    data_encoding::HEXLOWER.encode(&Sha256::digest(bytes))
}

#[test]
fn a_file_is_known_byte_for_byte_offline_by_its_account_and_by_the_service() {
    let kits = two_kits();
    let folder = tempfile::tempdir().unwrap();
    let pack = kits.server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200).body;
    let file = folder.path().join("pack.pdf");
    std::fs::write(&file, &pack).unwrap();
    let (code, report) = verify(&kits, &file, &[]);
    assert_eq!((code, &report["answer"]), (Some(0), &json!("issued")), "{report}");
    assert_eq!(report["sha256"], sha256(&pack));

    let ask = |hash: &str| kits.server.get(&format!("/v1/files/{hash}"), "").expect(200).json();
    let known = ask(&sha256(&pack));
    assert_eq!((&known["issued"], &known["kit"], &known["pack"]), (&json!(true), &json!("K-1"), &json!(1)), "{known}");
    assert_eq!(known["first_page"]["state"], "current");
    assert_eq!(ask(&sha256(&pack).to_uppercase()), known);
    for other in [&sha256(b"other"), "0"] {
        let answer = ask(other);
        assert_eq!((&answer["issued"], &answer["kit"]), (&json!(false), &Value::Null));
    }

    // The same pages in other bytes: a space before the end of the file's trailer.
    let mut spaced = pack.clone();
    let at = spaced.windows(9).rposition(|window| window == b"startxref").unwrap();
    spaced.insert(at, b'\n');
    std::fs::write(&file, &spaced).unwrap();
    let (code, report) = verify(&kits, &file, &[]);
    assert_eq!((code, &report["answer"]), (Some(0), &json!("same-pages")), "{report}");
    let account = folder.path().join("account.json");
    std::fs::write(&account, kits.server.get("/v1/kits/K-1/packs/1/manifest", &kits.first).expect(200).body).unwrap();
    let with_account = ["--manifest", account.to_str().unwrap()];
    let (code, report) = verify(&kits, &file, &with_account);
    assert_eq!((code, &report["answer"]), (Some(0), &json!("same-pages")));
    assert_eq!(report["remarks"], json!([]));
    std::fs::write(&file, &pack).unwrap();
    assert_eq!(verify(&kits, &file, &with_account).1["answer"], "issued");

    let mut torn = pack;
    let middle = torn.len() / 2;
    torn[middle] ^= 1;
    std::fs::write(&file, &torn).unwrap();
    let (code, report) = verify(&kits, &file, &with_account);
    assert_eq!((code, &report["answer"]), (Some(1), &json!("forged")), "{report}");
}

#[test]
fn a_pack_held_against_the_account_of_another_is_not_the_file_of_it() {
    let kits = two_kits();
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name);
    let pack = kits.server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200).body;
    std::fs::write(path("pack.pdf"), pack).unwrap();
    let account = kits.server.get("/v1/kits/K-2/packs/1/manifest", &kits.second).expect(200).body;
    std::fs::write(path("account.json"), account).unwrap();
    let (file, account) = (path("pack.pdf"), path("account.json"));
    let against = ["--manifest", account.to_str().unwrap()];
    let (code, report) = verify(&kits, &file, &against);
    assert_eq!((code, &report["answer"]), (Some(1), &json!("other-file")), "{report}");
    let (code, said) = verify_in_words(&kits, file.to_str().unwrap(), &against);
    assert_eq!(code, Some(1));
    assert!(said.contains("NOT THE FILE of this manifest") && !said.contains("byte for byte"), "{said}");
}

#[test]
fn what_is_given_wrongly_is_told_from_what_is_forged() {
    let kits = two_kits();
    let folder = tempfile::tempdir().unwrap();
    let absent = folder.path().join("absent.pdf");
    for what in ["nofile.pdf", absent.to_str().unwrap()] {
        let (code, said) = verify_in_words(&kits, what, &[]);
        assert_eq!(code, Some(2), "{said}");
        assert!(said.contains(what) && said.contains("No such file"), "{said}");
    }
    let pack = kits.server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200).body;
    let code = &codes(&pack)[0];
    assert_eq!(verify_in_words(&kits, code, &[]).0, Some(0));
    assert_eq!(verify_in_words(&kits, &format!("HTTPS://PACKS.EXAMPLE/P/{code}"), &[]).0, Some(0));
    let (exit, said) = verify_in_words(&kits, &code[..code.len() - 8], &[]);
    assert_eq!(exit, Some(1), "{said}");
    let file = folder.path().join("pack.pdf");
    std::fs::write(&file, &pack).unwrap();
    let (exit, said) = verify_in_words(&kits, file.to_str().unwrap(), &["--manifest", file.to_str().unwrap()]);
    assert_eq!(exit, Some(2), "{said}");
    assert_eq!(verify_with("no key", &file, &[]).0, Some(2));
}

/// What a check says of a file that the service draws whenever it is asked for agrees with what the service says of its hash.
fn must_be_on_no_record(kits: &TwoKits, file: &Path, bytes: &[u8]) {
    let known = kits.server.get(&format!("/v1/files/{}", sha256(bytes)), "").expect(200).json();
    assert_eq!(known["issued"], false, "{known}");
    let (code, said) = verify_in_words(kits, file.to_str().unwrap(), &[]);
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("keeps no record") && said.contains("/v1/pages/"), "{said}");
    assert!(!said.contains("/v1/files/") && !said.contains("was issued"), "{said}");
}

#[test]
fn a_stop_sheet_carries_a_code_that_says_stop() {
    let kits = two_kits();
    kits.server.post("/v1/designs/frame/revisions/A/recall", &kits.publisher, &a_recall()).expect(200);
    let sheet = kits.server.get("/v1/kits/K-1/stop-sheets/A/pdf", &kits.first).expect(200).body;
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("sheet.pdf");
    std::fs::write(&file, &sheet).unwrap();
    let (code, report) = verify(&kits, &file, &[]);
    assert_eq!((code, &report["answer"]), (Some(0), &json!("issued")), "{report}");
    must_be_on_no_record(&kits, &file, &sheet);
    let statement = &report["pages"][0]["statement"];
    assert_eq!(
        (&statement["kind"], &statement["kit"], &statement["pack"]),
        (&json!("stop-sheet"), &json!("K-1"), &json!(""))
    );
    let codes = codes(&sheet);
    assert_eq!(codes.len(), report["pages"].as_array().unwrap().len());
    let answer = said(&kits, &codes[0]);
    assert_eq!(answer["state"], "recalled");
    assert!(answer["words"].as_str().unwrap().contains("stop sheet of revision A for kit K-1"), "{answer}");
    let page = String::from_utf8(kits.server.get(&format!("/P/{}", codes[0]), "").expect(200).body).unwrap();
    assert!(page.contains("a stop sheet") && page.contains("Recalled"));
    let found = kits.server.get(&format!("/v1/support/lookup?q={}", codes[0]), &kits.support).expect(200).json();
    assert_eq!((&found["kits"][0]["kit"]["serial"], &found["page"]["state"]), (&json!("K-1"), &json!("recalled")));
}

#[test]
fn the_pages_of_a_notice_carry_codes_until_their_work_is_done() {
    let kits = two_kits();
    assert_eq!(publish_document(&kits.server, &kits.publisher, "frame", &frame(912)), "C");
    let notice = json!({"from": "B", "to": "C", "class": "mandatory", "text": "Longer posts."});
    kits.server.post("/v1/designs/frame/notices", &kits.publisher, &notice).expect(201);
    let pages = kits.server.get("/v1/kits/K-1/notices/1/pages", &kits.first).expect(200).body;
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("notice.pdf");
    std::fs::write(&file, &pages).unwrap();
    let (code, report) = verify(&kits, &file, &[]);
    assert_eq!((code, &report["answer"]), (Some(0), &json!("issued")), "{report}");
    let statement = &report["pages"][0]["statement"];
    must_be_on_no_record(&kits, &file, &pages);
    let facts = ["kind", "notice", "revision", "pack"].map(|key| statement[key].as_str().unwrap());
    assert_eq!(facts, ["notice", "1", "C", ""]);
    let code = &codes(&pages)[0];
    let answer = said(&kits, code);
    assert_eq!(answer["state"], "current");
    assert!(answer["words"].as_str().unwrap().contains("the pages of notice 1 for kit K-1"), "{answer}");
    kits.server.send("POST", "/v1/kits/K-1/notices/1/completion", &kits.first, &[], None).expect(200);
    let answer = said(&kits, code);
    assert_eq!(answer["state"], "kept");
    assert!(answer["words"].as_str().unwrap().starts_with("Done: the work of notice 1"), "{answer}");
    kits.server.post("/v1/designs/frame/revisions/C/recall", &kits.publisher, &a_recall()).expect(200);
    assert_eq!(said(&kits, code)["state"], "recalled");
}

/// The file of `tests/paper`, whose key is 32 threes; its public half by another library (the cryptography package of PyPI).
#[test]
fn a_seal_of_the_first_form_is_known_by_the_account_alone() {
    let key = "ed4928c628d1c2c6eae90338905995612959273a5c63f93636c14614ac8737d1";
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("paper/first_form.pdf");
    let (code, report) = verify_with(key, &file, &[]);
    assert_eq!((code, &report["answer"]), (Some(4), &json!("old-seal")), "{report}");
    let folder = tempfile::tempdir().unwrap();
    let account = folder.path().join("account.json");
    let hash = sha256(&std::fs::read(&file).unwrap());
    for (said, code, answer) in [(hash.as_str(), 0, "issued"), ("0", 1, "other-file")] {
        std::fs::write(&account, json!({"file_sha256": said}).to_string()).unwrap();
        let (found, report) = verify_with(key, &file, &["--manifest", account.to_str().unwrap()]);
        assert_eq!((found, &report["answer"]), (Some(code), &json!(answer)), "{report}");
    }
}
