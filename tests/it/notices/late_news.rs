//! What is said of a kit after something changed around it: notices of before it came, work that is done, recalls that ended, reasons.

use crate::browser::Browser;
use crate::fixtures::{a_recall, create_kit, publish_document, put_draft};
use crate::kits::standing::{OneKit, gauged, one_kit};
use crate::server::run_on;
use serde_json::{Value, json};

fn step(kit: &OneKit, letter: &str, step: &str, body: &Value) {
    kit.server.post(&format!("/v1/designs/frame/revisions/{letter}/{step}"), &kit.publisher, body).expect(200);
}

fn notices(kit: &OneKit, serial: &str) -> Vec<i64> {
    let said = kit.server.get(&format!("/v1/kits/{serial}/notices"), &kit.publisher).expect(200).json();
    said["notices"].as_array().unwrap().iter().map(|notice| notice["number"].as_i64().unwrap()).collect()
}

fn printed(kit: &OneKit, number: u32) -> String {
    let path = format!("/v1/kits/K-1/packs/{number}/manifest");
    let account = kit.server.get(&path, &kit.publisher).expect(200).json();
    let texts = account["pages"].as_array().unwrap().iter().flat_map(|page| page["texts"].as_array().unwrap());
    texts.map(|text| text.as_str().unwrap()).collect::<Vec<_>>().join(" ")
}

#[test]
fn a_kit_that_comes_to_a_revision_late_is_told_of_its_notices() {
    let kit = one_kit();
    create_kit(&kit.server, &kit.publisher, "K-B", "frame", "B");
    kit.raise("mandatory");
    assert_eq!(notices(&kit, "K-B"), [0; 0], "it has the change");
    // Sold with the revision of before the change.
    create_kit(&kit.server, &kit.publisher, "K-2", "frame", "A");
    assert_eq!(notices(&kit, "K-2"), [1]);
    let standing = kit.server.get("/v1/kits/K-2", &kit.publisher).json()["standing"].clone();
    assert!(standing["words"].as_str().unwrap().contains("Do notice 1 first"), "{standing}");
    // From a file.
    let rows = "serial,design,revision,customer_name,customer_email\nK-3,frame,A,Ada Mundy,ada@mail.example\nK-4,frame,B,Ada Mundy,ada@mail.example\n";
    let headers = [("content-type", "text/csv")];
    kit.server.send("POST", "/v1/kit-imports", &kit.publisher, &headers, Some(rows)).expect(201);
    assert_eq!((notices(&kit, "K-3"), notices(&kit, "K-4")), (vec![1], vec![]));
    // Moved back.
    let back = json!({"revision": "A", "reason": "For a test."});
    kit.server.post("/v1/kits/K-B/moves", &kit.publisher, &back).expect(201);
    assert_eq!(notices(&kit, "K-B"), [1]);
    let raised = kit.server.get("/v1/designs/frame/notices/1", &kit.publisher).expect(200).json();
    assert_eq!(raised["kits"], 4, "{raised}");
    assert_eq!(raised["groups"].as_array().unwrap().len(), 1, "all of them have the same work to do");
    // The work is done once, whatever revision the kit has after that.
    kit.server.send("POST", "/v1/kits/K-B/notices/1/completion", &kit.publisher, &[], None).expect(200);
    for letter in ["B", "A"] {
        let body = json!({"revision": letter, "reason": "For a test."});
        kit.server.post("/v1/kits/K-B/moves", &kit.publisher, &body).expect(201);
    }
    assert_eq!(notices(&kit, "K-B"), [1]);
    let outstanding = kit.server.get("/v1/notices?design=frame", &kit.publisher).expect(200).json();
    assert_eq!(outstanding["notices"].as_array().unwrap().len(), 3, "{outstanding}");
}

#[test]
fn a_notice_that_concerned_nobody_is_told_to_the_first_whom_it_concerns() {
    let kit = one_kit();
    kit.move_to("B");
    kit.raise("mandatory");
    assert_eq!(kit.server.get("/v1/designs/frame/notices/1", &kit.publisher).expect(200).json()["kits"], 0);
    create_kit(&kit.server, &kit.publisher, "K-2", "frame", "A");
    assert_eq!(notices(&kit, "K-2"), [1]);
    let told = kit.server.get("/v1/kits/K-2/notices", &kit.publisher).expect(200).json();
    assert_ne!(told["notices"][0]["work"]["parts"], json!([]), "{told}");
}

#[test]
fn parts_made_for_a_notice_are_not_made_again_from_an_old_revision() {
    let kit = one_kit();
    kit.raise("mandatory");
    kit.server.send("POST", "/v1/kits/K-1/notices/1/completion", &kit.builder, &[], None).expect(200);
    kit.issue(&json!({}));
    let (state, words) = kit.stands(2);
    assert_eq!(state, "current");
    assert!(words.contains("Notice 1 was done on") && words.contains("do not use their templates in pack 2"));
    let said = printed(&kit, 2);
    assert!(said.contains("done on") && said.contains("Cross out their templates in this pack"), "{said}");
    kit.move_to("B");
    kit.issue(&json!({}));
    let said = printed(&kit, 3);
    assert!(said.contains("the parts listed below are made already"), "{said}");
    let left = "What a notice counts for, and not this list (1)";
    assert!(said.contains(left) && said.contains("leave it as it was made for that"), "{said}");
    kit.issue(&json!({}));
    assert!(!printed(&kit, 4).contains("Notice 1"), "this one has the change");
}

#[test]
fn parts_of_a_recalled_revision_are_stopped_though_their_notice_is_done() {
    let kit = one_kit();
    kit.raise("mandatory");
    kit.raise("recommended");
    let finish = |number: u32| {
        let path = format!("/v1/kits/K-1/notices/{number}/completion");
        kit.server.send("POST", &path, &kit.builder, &[], None)
    };
    finish(1).expect(200);
    step(&kit, "B", "recall", &a_recall());
    // Its parts are in the frame, so that the hazard and the remedy concern it.
    let sheet = kit.server.get("/v1/kits/K-1/stop-sheets/B", &kit.builder).expect(200).json();
    assert_eq!((&sheet["revision"], sheet.get("acknowledged_at")), (&json!("B"), None), "{sheet}");
    let ledger = kit.server.get("/v1/designs/frame/revisions/B/recall", &kit.publisher).expect(200).json();
    assert!(ledger.to_string().contains("K-1"), "{ledger}");
    assert!(kit.stands(1).1.starts_with("Stop sheet first: revision B"), "{}", kit.stands(1).1);
    kit.server.send("POST", "/v1/kits/K-1/stop-sheets/B/acknowledgement", &kit.builder, &[], None).expect(200);
    let (state, words) = kit.stands(1);
    assert_eq!(state, "notice-first");
    assert!(words.starts_with("Stop: notice 1 was done on") && words.contains("has since been recalled"), "{words}");
    assert!(!words.contains("make the parts that it names"), "{words}");
    finish(2).problem(409, "not-in-force");
    kit.issue(&json!({}));
    let said = printed(&kit, 2);
    assert!(said.contains("Use none of them, and make none anew"), "{said}");
    assert!(said.contains("Stop: revision B, which has the change, was recalled since."), "{said}");
    let page = Browser::with_token(&kit.server, &kit.builder);
    page.get("/kits/K-1").says("Do none of this work until the supplier says how").says_nothing_of("Its pages (PDF)");
}

/// The kit has the change from a later revision, so that nothing of it is to be left alone.
#[test]
fn the_recall_of_a_revision_between_stops_no_notice_of_a_kit_that_has_a_later_one() {
    let kit = one_kit();
    publish_document(&kit.server, &kit.publisher, "frame", &gauged(20));
    kit.raise("mandatory");
    kit.move_to("C");
    step(&kit, "B", "recall", &a_recall());
    let notice = kit.server.get("/v1/kits/K-1/notices", &kit.builder).expect(200).json()["notices"][0].clone();
    assert_eq!(notice["stopped"], false, "{notice}");
    kit.issue(&json!({}));
    let said = printed(&kit, 2);
    assert!(said.contains("Notice 1, mandatory") && !said.contains("was recalled since"), "{said}");
    assert!(!said.contains("do nothing to it until the supplier says how"), "{said}");
    kit.server.send("POST", "/v1/kits/K-1/notices/1/completion", &kit.builder, &[], None).expect(200);
}

#[test]
fn nobody_is_sent_to_what_was_recalled() {
    let kit = one_kit();
    kit.raise("mandatory");
    kit.move_to("B");
    kit.issue(&json!({}));
    let old = kit.code(1);
    step(&kit, "B", "recall", &a_recall());
    let scanned = kit.server.get(&format!("/v1/pages/{old}"), "").expect(200).json();
    let words = scanned["words"].as_str().unwrap();
    assert!(words.contains("Stop: revision B was recalled") && !words.contains("Use pack 2"), "{words}");

    // A notice whose change was recalled.
    kit.move_to("A");
    let desk = Browser::with_token(&kit.server, &kit.publisher);
    desk.get("/kits/K-1").says("Stop: notice 1 is mandatory").says("has since been recalled");
    kit.server.send("POST", "/v1/kits/K-1/stop-sheets/B/acknowledgement", &kit.builder, &[], None).expect(200);
    let refused = kit.server.get("/v1/kits/K-1/notices/1/pages", &kit.builder).problem(409, "not-in-force");
    assert!(refused["detail"].as_str().unwrap().contains("Do none of its work"), "{refused}");
    let sheet = kit.server.get("/v1/kits/K-1/stop-sheets/B", &kit.builder).expect(200);
    assert_eq!(sheet.json()["revision"], "B");
}

#[test]
fn a_recall_that_ended_is_still_known() {
    let kit = one_kit();
    step(&kit, "A", "recall", &a_recall());
    let sheet = kit.server.get("/v1/kits/K-1/stop-sheets/A/pdf", &kit.builder).expect(200).body;
    let code = crate::packs::seals::codes(&sheet)[0].clone();
    let reader = Browser::with_token(&kit.server, &kit.builder);
    let closed = reader.get("/kits/K-1/packs/1").expect(409);
    closed.says("Read the stop sheet").says("/kits/K-1/stop-sheets/A\"");
    reader.get("/kits/K-1/packs").expect(409).says("Read the stop sheet");
    step(&kit, "A", "reinstatement", &json!({"reason": "The steel was tested and is sound."}));
    let scanned = kit.server.get(&format!("/v1/pages/{code}"), "").expect(200).json();
    let words = scanned["words"].as_str().unwrap();
    assert!(words.starts_with("Ended:") && words.contains("tested and is sound"), "{words}");
    let (state, words) = kit.stands(1);
    assert_eq!(state, "current");
    assert!(words.contains("was recalled earlier and was put in force again on"), "{words}");
}

#[test]
fn who_holds_a_withdrawn_revision_reads_why() {
    let kit = one_kit();
    step(&kit, "A", "withdrawal", &json!({"reason": "Steel grade discontinued."}));
    let (state, words) = kit.stands(1);
    assert_eq!(state, "withdrawn");
    assert!(words.contains("Steel grade discontinued."), "{words}");
    let desk = Browser::with_token(&kit.server, &kit.publisher);
    step(&kit, "B", "recall", &a_recall());
    desk.get("/support?q=K-1").says("This design has no revision in force").says_nothing_of("It has the newest");
}

#[test]
fn a_mandatory_change_is_said_before_its_notice_comes() {
    let kit = one_kit();
    let etag = put_draft(&kit.server, &kit.publisher, "frame", &gauged(20));
    let body = json!({"change_note": "The foot was weak: do not drive.", "class": "mandatory"}).to_string();
    let published =
        kit.server.send("POST", "/v1/designs/frame/revisions", &kit.publisher, &[("if-match", &etag)], Some(&body));
    assert_eq!(published.expect(201).json()["letter"], "C");
    let (state, words) = kit.stands(1);
    assert_eq!(state, "notice-first");
    assert!(words.starts_with("Ask the supplier first: revision C has a change that is mandatory"), "{words}");
    assert!(!words.contains("make the parts that it names"), "{words}");
    let scanned = Browser::at(&kit.server).get(&format!("/P/{}", kit.code(1)));
    scanned.says("Not yet: read what comes first").says_nothing_of("Notice first");
    let notice = json!({"from": "B", "to": "C", "class": "mandatory", "text": "Make the foot anew."});
    kit.server.post("/v1/designs/frame/notices", &kit.publisher, &notice).expect(201);
    assert!(kit.stands(1).1.starts_with("Do notice 1 first"));
}

#[test]
fn one_name_is_one_person_however_many_tokens_it_has() {
    let kit = one_kit();
    let make = |name: &str| run_on(&kit.server.data, &["token", "--name", name]);
    let token = |name: &str| {
        let made = make(name);
        String::from_utf8(made.stdout).unwrap().trim().to_owned()
    };
    assert_eq!(make(" ").status.code(), Some(2));
    let person = |token: &str| {
        // Who wrote and froze a draft may not publish it, when a second person is asked for.
        let place = kit.server.get("/v1/tokens?page_size=200", token).expect(200).json();
        place["tokens"].as_array().unwrap().len()
    };
    let (ann, again, ben) = (token("Ann"), token("ANN"), token("Ben"));
    assert!(person(&ann) > 3 && person(&again) > 3 && person(&ben) > 3);
    let place = kit.server.stop();
    let server = crate::server::Server::start_in_with(place, &["--second-approver", "true"]);
    let etag = put_draft(&server, &ann, "frame", &gauged(20));
    server.send("POST", "/v1/designs/frame/draft/freeze", &ann, &[("if-match", &etag)], None).expect(200);
    let publish = |token: &str| {
        let body = json!({"change_note": "For a test.", "class": "recommended"}).to_string();
        server.send("POST", "/v1/designs/frame/revisions", token, &[("if-match", &etag)], Some(&body))
    };
    publish(&again).problem(403, "second-person-needed");
    publish(&ben).expect(201);
}

#[test]
fn a_serial_is_taken_in_small_letters_too() {
    let kit = one_kit();
    let card = kit.server.post("/v1/kits/K-1/access-code", &kit.publisher, &json!({})).expect(201).json();
    let typed = json!({"serial": " k-1 ", "access_code": card["access_code"]});
    let signed = kit.server.post("/v1/sign-in", "", &typed).expect(201).json();
    kit.server.get("/v1/kits/K-1", signed["token"].as_str().unwrap()).expect(200);
}

#[test]
fn a_recall_comes_before_every_download_whatever_revision_the_kit_has_now() {
    let kit = one_kit();
    kit.move_to("B");
    kit.issue(&json!({}));
    kit.move_to("A");
    step(&kit, "B", "recall", &a_recall());
    let pack = "/v1/kits/K-1/packs/1/file";
    let problem = kit.server.get(pack, &kit.builder).problem(409, "stop-sheet-first");
    assert!(problem["detail"].as_str().unwrap().contains("Revision B is recalled"), "{problem}");
    kit.server.post("/v1/kits/K-1/packs", &kit.builder, &json!({})).problem(409, "stop-sheet-first");
    // The headline is the same for whatever comes first: the sentence says what.
    let (state, words) = kit.stands(1);
    assert_eq!(state, "notice-first");
    assert!(words.starts_with("Stop sheet first: revision B was recalled"), "{words}");
    assert!(!words.contains("make the parts that it names"), "{words}");
    let page = Browser::with_token(&kit.server, &kit.builder);
    page.get("/kits/K-1").says("Revision B was recalled").says_nothing_of("Download pack");
    for shown in [page.get("/kits/K-1"), page.get(&format!("/P/{}", kit.code(1)))] {
        assert!(!shown.text.to_lowercase().contains("notice first"), "there is no notice: {}", shown.text);
    }
    kit.server.send("POST", "/v1/kits/K-1/stop-sheets/B/acknowledgement", &kit.builder, &[], None).expect(200);
    kit.server.get(pack, &kit.builder).expect(200);
    page.get("/kits/K-1").says("Download pack 1");
}

#[test]
fn a_recall_is_not_softened() {
    let kit = one_kit();
    for (pointer, words) in [
        ("hazard", "As a precaution we recall it."),
        ("hazard", "In rare cases a weld may crack."),
        ("remedies", "We voluntarily replace it."),
        ("what_to_do", "It is unlikely to fail; stop building."),
    ] {
        let mut recall = a_recall();
        recall[pointer] = json!(words);
        let path = "/v1/designs/frame/revisions/A/recall";
        let refused = kit.server.post(path, &kit.publisher, &recall).problem(422, "invalid-request");
        assert_eq!(refused["errors"][0]["pointer"], format!("/{pointer}"), "{refused}");
    }
}

#[test]
fn a_pack_fetched_in_parts_is_on_record() {
    let kit = one_kit();
    let part = |from: &str| {
        let path = "/v1/kits/K-1/packs/1/file";
        kit.server.send("GET", path, &kit.builder, &[("range", from)], None).expect(206);
    };
    let fetched = || kit.server.get("/v1/kits/K-1/packs/1", &kit.publisher).expect(200).json()["downloads"].clone();
    part("bytes=1-");
    assert_eq!(fetched(), 1);
    part("bytes=5000-");
    assert_eq!(fetched(), 1, "the rest of one that broke off is none of its own");
    part("bytes=0-99");
    assert_eq!(fetched(), 2);
}

#[test]
fn a_value_that_will_not_do_is_named_by_its_place_in_what_was_sent() {
    let kit = one_kit();
    let measure = |values: Value| kit.server.post("/v1/kits/K-1/measurements", &kit.builder, &values);
    let unknown = measure(json!({"nope": 5})).problem(422, "invalid-request");
    assert_eq!(unknown["errors"][0]["pointer"], "/nope");
    assert!(unknown["errors"][0]["detail"].as_str().unwrap().ends_with("on this kit: height."), "{unknown}");
    let beyond = measure(json!({"height": 5000})).problem(422, "not-measurable");
    assert_eq!(beyond["findings"][0]["pointer"], "/height");
    let list = kit.server.post("/v1/kits", &kit.publisher, &json!(["K-9", "frame", "A", {}, "x", {}]));
    assert!(
        list.problem(422, "invalid-request")["errors"][0]["detail"].as_str().unwrap().starts_with("Send a JSON object")
    );
    let file = kit.server.get("/v1/files/zz", "").expect(200).json();
    assert!(file["words"].as_str().unwrap().starts_with("This is not a SHA-256"), "{file}");
    let wrap = kit.server.get("/v1/designs/frame/revisions/A/wraps/post/middle", &kit.publisher);
    let said = wrap.problem(404, "unknown-wrap");
    assert!(said["detail"].as_str().unwrap().contains("`from` and `to`"), "{said}");
}
