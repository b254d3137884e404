//! From a draft to a pack in the builder's hands, and the pack's bytes ever after.

use crate::fixtures::{
    broken_frame, builder_token, create_design, create_kit, doubtful_frame, frame, publish, publish_document,
    put_draft, two_kits,
};
use crate::place::on_postgres;
use crate::server::Server;
use data_encoding::HEXLOWER;
use serde_json::json;
use sha2::{Digest, Sha256};

#[test]
fn a_draft_becomes_a_revision_a_kit_and_a_pack() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    let etag = put_draft(&server, &token, "frame", &frame(900));

    let findings = server.get("/v1/designs/frame/draft/findings", &token).expect(200).json();
    assert_eq!(findings["errors"], 0, "{findings}");
    let preview = server.get("/v1/designs/frame/draft/pack", &token).expect(200);
    assert!(preview.body.starts_with(b"%PDF-"));

    let published = publish(&server, &token, "frame", &etag).expect(201);
    assert_eq!(published.header("location"), "/v1/designs/frame/revisions/A");
    create_kit(&server, &token, "K-1", "frame", "A");
    let issued = server.post("/v1/kits/K-1/packs", &token, &json!({"paper": "letter"})).expect(201);
    assert_eq!(issued.header("location"), "/v1/kits/K-1/packs/1");
    assert_eq!(issued.json()["paper"], "letter");

    let builder = builder_token(&server, &token, "K-1");
    let file = server.get("/v1/kits/K-1/packs/1/file", &builder).expect(200);
    let sha256 = HEXLOWER.encode(&Sha256::digest(&file.body));
    assert_eq!(issued.json()["sha256"], sha256);
    assert_eq!(issued.json()["size"], file.body.len());
    assert_eq!(file.header("etag"), format!("\"{sha256}\""));
    assert_eq!(file.header("content-type"), "application/pdf");
    assert_eq!(file.header("content-disposition"), "attachment; filename=\"K-1-frame-rev-A-pack-1.pdf\"");
}

#[test]
fn a_document_comes_back_byte_for_byte() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    let spaced = frame(900).replace(": ", "  :   ");
    publish_document(&server, &token, "frame", &spaced);
    for path in ["/v1/designs/frame/draft", "/v1/designs/frame/revisions/A/document"] {
        let answer = server.get(path, &token).expect(200);
        assert_eq!(String::from_utf8(answer.body).unwrap(), spaced);
    }
}

#[test]
fn errors_stop_publishing_and_are_named() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    let etag = put_draft(&server, &token, "frame", &broken_frame());
    let problem = publish(&server, &token, "frame", &etag).problem(422, "design-has-errors");
    assert_eq!(problem["findings"][0]["severity"], "error");
    assert_eq!(problem["findings"][0]["pointer"], "/members/0/from");
    server.get("/v1/designs/frame/draft/pack", &token).problem(422, "design-has-errors");
    let revisions = server.get("/v1/designs/frame/revisions", &token).expect(200);
    assert_eq!(revisions.json()["revisions"], json!([]));
}

#[test]
fn warnings_stop_publishing_until_they_are_acknowledged() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    let etag = put_draft(&server, &token, "frame", &doubtful_frame());
    let problem = publish(&server, &token, "frame", &etag).problem(409, "warnings-not-acknowledged");
    let findings = problem["findings"].as_array().unwrap();
    assert!(findings.iter().all(|finding| finding["severity"] == "warning"));
    let publish_with = |codes: serde_json::Value| {
        let body = json!({"change_note": "As meant.", "acknowledge": codes}).to_string();
        let headers = [("if-match", etag.as_str())];
        let path = "/v1/designs/frame/revisions";
        server.send("POST", path, &token, &headers, Some(&body))
    };
    publish_with(json!(["some-other-code"])).problem(409, "warnings-not-acknowledged");
    let revision = publish_with(json!(["cope-misses-part"])).expect(201);
    assert_eq!(revision.json()["acknowledged"], json!(["cope-misses-part"]));
}

#[test]
fn publishing_the_same_again_is_refused() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    publish_document(&server, &token, "frame", &frame(900));
    // The same content in another dress is the same revision: the hash is over the canonical document.
    let etag = put_draft(&server, &token, "frame", &frame(900).replace('\n', " "));
    publish(&server, &token, "frame", &etag).problem(409, "nothing-changed");
}

#[test]
fn letters_leave_out_those_that_read_like_others() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    let letters: Vec<String> =
        (0..22).map(|step| publish_document(&server, &token, "frame", &frame(900 + step))).collect();
    // ASME Y14.35 practice: without I, O, Q, S, X and Z, and AA after Y (from memory, as in the design page).
    assert_eq!(letters.join(" "), "A B C D E F G H J K L M N P R T U V W Y AA AB");
}

#[test]
fn each_revision_is_chained_to_the_one_before() {
    let kits = two_kits();
    let list = kits.server.get("/v1/designs/frame/revisions", &kits.support).expect(200).json();
    let mut previous = String::new();
    for revision in list["revisions"].as_array().unwrap() {
        let text = |name: &str| revision[name].as_str().unwrap().to_owned();
        assert_eq!(text("previous_chain"), previous);
        let lines = format!(
            "matchmark-revision/1\n{previous}\n{}\n{}\n{}\n",
            text("letter"),
            text("document_sha256"),
            &text("published_at")[..10]
        );
        assert_eq!(text("chain"), HEXLOWER.encode(&Sha256::digest(lines)));
        previous = text("chain");
    }
    assert_eq!(list["revisions"].as_array().unwrap().len(), 2);
}

#[test]
fn a_changed_member_differs_between_revisions_by_what_was_changed() {
    let kits = two_kits();
    let overall = |letter: &str| {
        let path = format!("/v1/designs/frame/revisions/{letter}/members/post.L");
        let member = kits.server.get(&path, &kits.support).expect(200).json();
        member["cut"]["overall"].as_f64().unwrap()
    };
    assert!((overall("B") - overall("A") - 4.0).abs() < 1e-6);
}

#[test]
fn a_pack_keeps_its_bytes_over_downloads_and_restarts() {
    let kits = two_kits();
    let path = "/v1/kits/K-1/packs/1/file";
    let first = kits.server.get(path, &kits.first).expect(200).body;
    let second = kits.server.get(path, &kits.support).expect(200).body;
    assert_eq!(first, second);
    let server = Server::start_in(kits.server.stop());
    assert!(!server.printed.contains("token"), "a used directory gets no new token");
    assert_eq!(server.get(path, &kits.first).expect(200).body, first);
}

#[test]
fn downloads_are_recorded_and_head_is_none() {
    let kits = two_kits();
    let path = "/v1/kits/K-1/packs/1/file";
    let whole = kits.server.get(path, &kits.first).expect(200);
    let head = kits.server.send("HEAD", path, &kits.first, &[], None).expect(200);
    assert!(head.body.is_empty());
    assert_eq!(head.header("content-length"), whole.body.len().to_string());
    let known = [("if-none-match", whole.header("etag"))];
    let again = kits.server.send("GET", path, &kits.first, &known, None);
    assert!(again.expect(304).body.is_empty());
    let pack = kits.server.get("/v1/kits/K-1/packs/1", &kits.support);
    assert_eq!(pack.expect(200).json()["downloads"], 1);
}

#[test]
fn packs_of_a_kit_are_numbered_on() {
    let kits = two_kits();
    for number in 2..=3 {
        let issued = kits.server.post("/v1/kits/K-1/packs", &kits.support, &json!({})).expect(201);
        assert_eq!(issued.json()["number"], number);
    }
    let list = kits.server.get("/v1/kits/K-1/packs", &kits.first).expect(200);
    assert_eq!(list.json()["packs"].as_array().unwrap().len(), 3);
}

#[test]
fn a_pack_says_whether_it_is_still_right() {
    let kits = two_kits();
    let states = || -> Vec<(String, Option<i64>)> {
        let packs = kits.server.get("/v1/kits/K-1/packs", &kits.first).expect(200).json();
        let of =
            |pack: &serde_json::Value| (pack["state"].as_str().unwrap().to_owned(), pack["superseded_by"].as_i64());
        packs["packs"].as_array().unwrap().iter().map(of).collect()
    };
    let is = |state: &str, by: Option<i64>| (state.to_owned(), by);
    assert_eq!(states(), [is("current", None)]);
    let issue = || kits.server.post("/v1/kits/K-1/packs", &kits.support, &json!({})).expect(201).json();
    assert_eq!(issue()["state"], "current");
    assert_eq!(states(), [is("superseded", Some(2)), is("current", None)]);
    let post = |path: &str, body: serde_json::Value| kits.server.post(path, &kits.publisher, &body);
    post("/v1/designs/frame/revisions/A/withdrawal", json!({"reason": "A test."})).expect(200);
    assert_eq!(states(), [is("superseded", Some(2)), is("withdrawn", None)]);
    // Moved away, before and after there is a pack of the other revision.
    post("/v1/kits/K-1/moves", json!({"revision": "B", "reason": "A test."})).expect(201);
    // Only a pack of the kit's own revision takes their place, and there is none yet.
    assert_eq!(states(), [is("superseded", None), is("superseded", None)]);
    issue();
    assert_eq!(states(), [is("superseded", Some(3)), is("superseded", Some(3)), is("current", None)]);
    post("/v1/designs/frame/revisions/A/recall", crate::fixtures::a_recall()).expect(200);
    // Parts made to A may be in the frame: its stop sheet comes before the pack of B.
    assert_eq!(states(), [is("recalled", Some(3)), is("recalled", Some(3)), is("notice-first", None)]);
}

#[test]
fn it_is_listed_who_fetched_which_pack_and_when() {
    let kits = two_kits();
    kits.server.post("/v1/kits/K-1/packs", &kits.support, &json!({})).expect(201);
    let desk = json!({"role": "support", "name": "Bench tablet"});
    let desk = kits.server.post("/v1/tokens", &kits.publisher, &desk).expect(201).json();
    let fetch = |number: i64, token: &str| {
        kits.server.get(&format!("/v1/kits/K-1/packs/{number}/file"), token).expect(200);
    };
    for number in [1, 2, 1] {
        fetch(number, &kits.first);
    }
    fetch(2, desk["token"].as_str().unwrap());
    let (mut met, mut path) = (Vec::new(), "/v1/kits/K-1/downloads?page_size=3".to_owned());
    loop {
        let page = kits.server.get(&path, &kits.support).expect(200);
        met.extend(page.json()["downloads"].as_array().unwrap().clone());
        match page.headers.get("link") {
            Some(link) => path = link.to_str().unwrap().split(['<', '>']).nth(1).unwrap().to_owned(),
            None => break,
        }
    }
    let packs: Vec<i64> = met.iter().map(|one| one["pack"].as_i64().unwrap()).collect();
    assert_eq!(packs, [2, 1, 2, 1], "newest first: {met:?}");
    assert_eq!((&met[0]["by"], &met[0]["name"]), (&desk["id"], &json!("Bench tablet")));
    assert!(met[1..].iter().all(|one| one["role"] == "builder" && one.get("name").is_none()), "{met:?}");
    assert!(met.iter().all(|one| one["at"].as_str().unwrap().ends_with('Z') && one["times"] == 1), "{met:?}");
    let other = kits.server.get("/v1/kits/K-2/downloads", &kits.support).expect(200).json();
    assert_eq!(other["downloads"], json!([]));
}

#[test]
fn a_damaged_file_is_never_served() {
    let kits = two_kits();
    let pack = kits.server.get("/v1/kits/K-1/packs/1", &kits.support).json();
    let blob = kits.server.data.path().join("blobs").join(pack["sha256"].as_str().unwrap());
    let mut bytes = std::fs::read(&blob).unwrap();
    bytes[100] ^= 1;
    std::fs::write(&blob, bytes).unwrap();
    kits.server.get("/v1/kits/K-1/packs/1/file", &kits.first).problem(500, "internal");
}

#[test]
fn a_second_process_on_the_same_directory_is_refused() {
    if on_postgres() {
        return;
    }
    let server = Server::start();
    let second = std::process::Command::new(crate::server::binary())
        .args(["serve", "--listen", "127.0.0.1:0", "--data"])
        .arg(server.data.path())
        .output()
        .unwrap();
    assert_eq!(second.status.code(), Some(1));
    let told = String::from_utf8(second.stderr).unwrap();
    assert!(told.contains("another matchmark process"), "{told}");
}
