//! Pages that are signed: their codes, what the service says of them, and files checked offline.

use crate::bucket::on_s3;
use crate::fixtures::{TwoKits, two_kits};
use crate::place::on_postgres;
use crate::server::Server;
use serde_json::{Value, json};

fn issue(kits: &TwoKits, serial: &str, body: Value) -> Value {
    let path = format!("/v1/kits/{serial}/packs");
    kits.server.send("POST", &path, &kits.support, &[], Some(&body.to_string())).expect(201).json()
}

fn code_of(kits: &TwoKits, number: &Value, page: usize) -> String {
    let manifest = kits.server.get(&format!("/v1/kits/K-1/packs/{number}/manifest"), &kits.first).expect(200).json();
    manifest["pages"][page - 1]["code"].as_str().unwrap().to_owned()
}

#[test]
fn a_page_is_current_until_the_next_pack_and_unknown_when_changed() {
    let kits = two_kits();
    let first = issue(&kits, "K-1", json!({}));
    let code = code_of(&kits, &first["number"], 2);
    let ask = |code: &str| kits.server.get(&format!("/v1/pages/{code}"), "").expect(200).json();
    let said = ask(&code);
    assert_eq!(said["state"], "current");
    assert_eq!((said["page"]["kit"].as_str(), said["page"]["page"].as_i64()), (Some("K-1"), Some(2)));
    assert_eq!(said["latest_revision"], "B");

    let second = issue(&kits, "K-1", json!({}));
    assert_eq!(ask(&code)["state"], "superseded");
    assert_eq!(ask(&code_of(&kits, &second["number"], 1))["state"], "current");
    let mut changed = code.clone();
    changed.replace_range(30..31, if &code[30..31] == "A" { "B" } else { "A" });
    for other in [changed.as_str(), "AAAA", "not-a-code"] {
        let said = ask(other);
        assert_eq!((said["state"].as_str(), &said["page"]), (Some("unknown"), &Value::Null), "{other}");
    }
    let page = kits.server.get(&format!("/P/{code}"), "").expect(200);
    let text = String::from_utf8(page.body).unwrap();
    assert!(text.contains("Superseded") && text.contains("K-1") && !text.contains('@'));
}

#[test]
fn how_a_pack_is_printed_is_remembered_and_refused_where_it_cannot_be() {
    let kits = two_kits();
    let bars = json!({"paper": "tabloid", "check_bars": {"across": 99.0, "up": 101.5}});
    let first = issue(&kits, "K-1", bars);
    let second = issue(&kits, "K-1", json!({"paper": "a3"}));
    assert_eq!(first["print"]["check_bars"], second["print"]["check_bars"]);
    assert_eq!((first["paper"].as_str(), second["paper"].as_str()), (Some("tabloid"), Some("a3")));
    for (body, pointer) in [
        (json!({"check_bars": {"across": 89.0, "up": 100.0}}), "/check_bars/across"),
        (json!({"paper_thickness": 2.0}), "/paper_thickness"),
        (json!({"only_changes": true}), "/only_changes"),
    ] {
        let answer = kits.server.send("POST", "/v1/kits/K-1/packs", &kits.support, &[], Some(&body.to_string()));
        let problem = answer.json();
        assert_eq!(problem["errors"][0]["pointer"], pointer, "{problem}");
    }
}

#[test]
fn packs_of_one_hand_go_together_and_are_remembered_until_the_next_revision() {
    let kits = two_kits();
    let whole = json!(1);
    let left = issue(&kits, "K-1", json!({"hands": "left"}));
    let left_code = code_of(&kits, &left["number"], 1);
    let state = |code: &str| kits.server.get(&format!("/v1/pages/{code}"), "").expect(200).json();
    let stays = state(&code_of(&kits, &whole, 1));
    assert_eq!(stays["state"], "current", "no other pack has the right hand");
    assert!(stays["words"].as_str().unwrap().contains("use pack 1 for the right hand only"), "{stays}");
    let right = issue(&kits, "K-1", json!({"hands": "right"}));
    assert_eq!(right["print"]["hands"], "right");
    let gone = state(&code_of(&kits, &whole, 1));
    assert_eq!(gone["state"], "superseded");
    assert!(
        gone["words"].as_str().unwrap().contains("Use packs 2 and 3, and cross out every page of pack 1"),
        "{gone}"
    );
    let said = state(&left_code);
    assert_eq!(said["state"], "current");
    assert!(said["words"].as_str().unwrap().contains("left-hand templates"), "{said}");
    let manifest = kits.server.get("/v1/kits/K-1/packs/2/manifest", &kits.first).expect(200).json();
    assert_eq!(manifest["print"]["hands"], "left");

    // The next pack is of the same hand as the last, and takes the place of that one only.
    let again = issue(&kits, "K-1", json!({}));
    assert_eq!(again["print"]["hands"], "right");
    assert_eq!(state(&left_code)["state"], "current");
    let packs = kits.server.get("/v1/kits/K-1/packs", &kits.first).expect(200).json();
    let by: Vec<_> = packs["packs"].as_array().unwrap().iter().map(|pack| pack["superseded_by"].as_i64()).collect();
    assert_eq!(by, [Some(4), None, Some(4), None]);

    let moved = json!({"revision": "B", "reason": "A test."});
    kits.server.send("POST", "/v1/kits/K-1/moves", &kits.publisher, &[], Some(&moved.to_string())).expect(201);
    assert_eq!(issue(&kits, "K-1", json!({}))["print"]["hands"], "both");
}

#[test]
fn a_wrap_is_drawn_with_its_opposite_hand_on_request() {
    let kits = two_kits();
    let drawn = |what: &str| {
        let path = format!("/v1/designs/frame/revisions/A/wraps/{what}");
        kits.server.get(&path, &kits.publisher).expect(200).body
    };
    let (left, right) = (drawn("post.L/to/pdf"), drawn("post.R/to/pdf"));
    assert_ne!(left, right);
    assert_eq!(drawn("post.L/to/pdf?hands=right"), right);
    assert_eq!(drawn("post.R/to/pdf?hands=left"), left);
    let both = drawn("post.L/to/pdf?hands=both");
    assert_eq!(drawn("post.R/to/pdf?hands=both"), both);
    assert!(both != left && both != right);
    let path = "/v1/designs/frame/revisions/A/wraps/post.L/to/pdf?hands=neither";
    kits.server.get(path, &kits.publisher).problem(400, "bad-request");
}

#[test]
fn a_file_is_checked_offline_with_the_public_key() {
    let kits = two_kits();
    let pack = issue(&kits, "K-1", json!({}));
    let number = &pack["number"];
    let file = kits.server.get(&format!("/v1/kits/K-1/packs/{number}/file"), &kits.first).expect(200);
    let key = kits.server.get("/v1/public-key", "").expect(200).json()["public_key"].as_str().unwrap().to_owned();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("pack.pdf");
    std::fs::write(&path, &file.body).unwrap();
    let run = |what: &str, key: &str| {
        let output = std::process::Command::new(crate::server::binary())
            .args(["verify", what, "--public-key", key])
            .output()
            .unwrap();
        (output.status.code(), String::from_utf8(output.stdout).unwrap())
    };
    let (code, said) = run(path.to_str().unwrap(), &key);
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("as signed") && said.contains("kit K-1"), "{said}");
    assert_eq!(run(&code_of(&kits, number, 3), &key).0, Some(0));
    let mut bytes = file.body;
    let middle = bytes.len() / 2;
    bytes[middle] ^= 1;
    std::fs::write(&path, &bytes).unwrap();
    assert_ne!(run(path.to_str().unwrap(), &key).0, Some(0));
    let other = "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a";
    assert_eq!(run(&code_of(&kits, number, 3), other).0, Some(1));
}

/// After an older backup is restored numbers can be given a second time: a page says what it is of by its content, not by its number.
#[test]
fn a_page_of_a_lost_pack_is_not_one_of_the_pack_that_has_its_number_now() {
    if on_postgres() || on_s3() {
        return;
    }
    let kits = two_kits();
    let TwoKits { server, publisher, support, first, second } = kits;
    let data = server.stop();
    let older = tempfile::tempdir().unwrap();
    let keep = older.path().join("matchmark.db");
    std::fs::copy(data.path().join("matchmark.db"), &keep).unwrap();
    let kits = TwoKits { server: Server::start_in(data), publisher, support, first, second };
    let lost = issue(&kits, "K-1", json!({}));
    assert_eq!(lost["number"], 2);
    let codes: Vec<String> = (1..=2).map(|page| code_of(&kits, &lost["number"], page)).collect();
    let TwoKits { server, publisher, support, first, second } = kits;
    let data = server.stop();
    for old in ["matchmark.db-wal", "matchmark.db-shm"] {
        let _ = std::fs::remove_file(data.path().join(old));
    }
    std::fs::copy(&keep, data.path().join("matchmark.db")).unwrap();
    let kits = TwoKits { server: Server::start_in(data), publisher, support, first, second };
    // Printed otherwise, so that it is another pack, of the same kit, revision, number and day.
    let given = issue(&kits, "K-1", json!({"paper": "letter"}));
    if given["number"] != 2 {
        // A service that skips what may have been given out says that there is no such pack.
        return;
    }
    let ask = |code: &str| kits.server.get(&format!("/v1/pages/{code}"), "").expect(200).json();
    for code in &codes {
        let said = ask(code);
        assert_eq!((&said["state"], &said["page"]), (&json!("unknown"), &Value::Null), "{said}");
        assert!(said["words"].as_str().unwrap().contains("given twice"), "{said}");
        kits.server.get(&format!("/P/{code}"), "").expect(200);
    }
    assert_eq!(ask(&code_of(&kits, &given["number"], 1))["state"], "current");
    // Whoever looks it up is not led to the kit by what is not known.
    let found = kits.server.get(&format!("/v1/support/lookup?q={}", codes[0]), &kits.support).expect(200).json();
    assert_eq!(found["kits"], json!([]));
}

#[test]
fn everything_numbered_has_one_address() {
    let kits = two_kits();
    let notice = json!({"from": "A", "to": "B", "class": "optional", "text": "Posts grew."});
    kits.server.post("/v1/designs/frame/notices", &kits.publisher, &notice).expect(201);
    let hold = json!({"reason": "A test.", "ask": "Us."});
    kits.server.post("/v1/kits/K-2/holds", &kits.publisher, &hold).expect(201);
    kits.server.post("/v1/designs/frame/revisions/B/pack-jobs", &kits.support, &json!({})).expect(202);
    let get = |path: String| kits.server.get(&path, &kits.publisher);
    for (start, end) in [
        ("/v1/kits/K-1/packs/", ""),
        ("/v1/kits/K-1/packs/", "/file"),
        ("/v1/kits/K-1/packs/", "/manifest"),
        ("/v1/kits/K-1/notices/", "/pages"),
        ("/v1/designs/frame/notices/", ""),
        ("/v1/designs/frame/draft/saves/", ""),
        ("/v1/pack-jobs/", ""),
        ("/v1/pack-jobs/", "/kits"),
        ("/v1/pack-jobs/", "/events"),
    ] {
        get(format!("{start}1{end}")).expect(200);
        for number in ["+1", "%2B1", "01", "-1", "1.0", "0"] {
            assert_eq!(get(format!("{start}{number}{end}")).status, 404, "{start}{number}{end}");
        }
    }
    for number in ["+1", "01"] {
        let reason = json!({"reason": "A test."});
        let lifting = format!("/v1/kits/K-2/holds/{number}/lifting");
        kits.server.post(&lifting, &kits.publisher, &reason).problem(404, "unknown-hold");
        for answer in ["acknowledgement", "completion"] {
            let path = format!("/v1/kits/K-1/notices/{number}/{answer}");
            kits.server.send("POST", &path, &kits.first, &[], None).problem(404, "unknown-notice");
        }
    }
}

#[test]
fn a_wrap_drawn_alone_is_said_to_carry_no_code() {
    let server = Server::start();
    let paths = server.get("/openapi.json", "").expect(200).json()["paths"].clone();
    let paths = paths.as_object().unwrap().iter();
    let mut drawn = 0;
    for (path, deeds) in
        paths.filter(|(path, _)| path.contains("wrap") && (path.ends_with("/svg") || path.ends_with("/pdf")))
    {
        let deed = deeds.as_object().unwrap().values().next().unwrap();
        assert!(deed["description"].as_str().unwrap_or_default().contains("carries no code"), "{path}: {deed}");
        drawn += 1;
    }
    assert_eq!(drawn, 4);
}
