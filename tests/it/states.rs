//! What may become of a revision, over the whole table, and what each state means for kits and packs.

use crate::fixtures::{
    a_recall, create_design, create_kit, frame, new_kit, publish, publish_document, put_draft, recall, two_kits,
};
use crate::server::Server;
use serde_json::{Value, json};

/// What is done to a revision; the last two to its design's draft.
const STEPS: [&str; 5] = ["withdrawal", "recall", "reinstatement", "write", "publish"];

/// From each state each step: the state after it, or `None` when it is refused.
const TABLE: &[(&str, [Option<&str>; 5])] = &[
    ("draft", [None, None, None, Some("draft"), Some("published")]),
    ("published", [Some("withdrawn"), Some("recalled"), None, Some("published"), Some("superseded")]),
    ("superseded", [Some("withdrawn"), Some("recalled"), None, Some("superseded"), Some("superseded")]),
    ("withdrawn", [None, Some("recalled"), Some("published"), Some("withdrawn"), Some("withdrawn")]),
    ("recalled", [None, None, Some("published"), Some("recalled"), Some("recalled")]),
];

/// Brings a fresh design to the state for its revision A.
fn bring(server: &Server, token: &str, design: &str, state: &str) {
    create_design(server, token, design);
    put_draft(server, token, design, &frame(900));
    if state == "draft" {
        return;
    }
    publish_document(server, token, design, &frame(900));
    match state {
        "superseded" => drop(publish_document(server, token, design, &frame(901))),
        "withdrawn" => drop(step(server, token, design, "withdrawal")),
        "recalled" => drop(step(server, token, design, "recall")),
        _ => {}
    }
    assert_eq!(state_of(server, token, design).as_deref(), Some(state));
}

fn step(server: &Server, token: &str, design: &str, step: &str) -> u16 {
    let path = format!("/v1/designs/{design}/revisions/A/{step}");
    let answer = match step {
        "withdrawal" | "reinstatement" => server.post(&path, token, &json!({"reason": "For a test."})),
        "recall" => server.post(&path, token, &a_recall()),
        "write" => {
            put_draft(server, token, design, &frame(950));
            return 200;
        }
        _ => {
            let etag = put_draft(server, token, design, &frame(960));
            publish(server, token, design, &etag)
        }
    };
    if ![200, 201, 404].contains(&answer.status) {
        answer.problem(409, "state-forbids");
        return 409;
    }
    answer.status
}

fn state_of(server: &Server, token: &str, design: &str) -> Option<String> {
    let answer = server.get(&format!("/v1/designs/{design}/revisions/A"), token);
    (answer.status == 200).then(|| answer.json()["state"].as_str().unwrap().to_owned())
}

#[test]
fn every_step_from_every_state_ends_where_the_table_says() {
    let server = Server::start();
    let token = server.publisher();
    for (row, (state, ends)) in TABLE.iter().enumerate() {
        for (column, end) in ends.iter().enumerate() {
            let design = format!("frame-{row}-{column}");
            bring(&server, &token, &design, state);
            let document =
                |letter: &str| server.get(&format!("/v1/designs/{design}/revisions/{letter}/document"), &token);
            let before = document("A").body;
            let status = step(&server, &token, &design, STEPS[column]);
            let after = state_of(&server, &token, &design).unwrap_or_else(|| "draft".to_owned());
            let told = format!("{} from {state}: status {status}", STEPS[column]);
            match end {
                Some(end) => {
                    assert!(status < 300, "{told}");
                    assert_eq!(after, *end, "{told}");
                }
                None => {
                    assert!(status == 409 || (status == 404 && *state == "draft"), "{told}");
                    assert_eq!(after, *state, "{told}");
                }
            }
            if *state != "draft" {
                assert_eq!(document("A").body, before, "{told}: the revision itself never changes");
            }
        }
    }
}

#[test]
fn the_newest_in_force_is_the_published_one() {
    let kits = two_kits();
    let states = || -> Vec<String> {
        let list = kits.server.get("/v1/designs/frame/revisions", &kits.support).expect(200).json();
        let revisions = list["revisions"].as_array().unwrap().clone();
        revisions.iter().map(|revision| revision["state"].as_str().unwrap().to_owned()).collect()
    };
    assert_eq!(states(), ["superseded", "published"]);
    let reason = json!({"reason": "The posts do not fit."});
    kits.server.post("/v1/designs/frame/revisions/B/withdrawal", &kits.publisher, &reason).expect(200);
    assert_eq!(states(), ["published", "withdrawn"]);
    kits.server.post("/v1/designs/frame/revisions/B/reinstatement", &kits.publisher, &reason).expect(200);
    assert_eq!(states(), ["superseded", "published"]);
}

#[test]
fn a_withdrawn_revision_takes_no_kits_and_keeps_those_it_has() {
    let kits = two_kits();
    let reason = json!({"reason": "The posts do not fit."});
    kits.server.post("/v1/designs/frame/revisions/A/withdrawal", &kits.publisher, &reason).expect(200);
    kits.server.post("/v1/kits", &kits.publisher, &new_kit("K-3", "frame", "A")).problem(409, "not-in-force");
    create_kit(&kits.server, &kits.publisher, "K-3", "frame", "B");
    kits.server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200);
    kits.server.get("/v1/designs/frame/revisions/A/cut-sheet", &kits.first).expect(200);
    kits.server.post("/v1/kits/K-1/packs", &kits.support, &json!({})).expect(201);
}

#[test]
fn a_recall_needs_hazard_what_to_do_and_remedies() {
    let kits = two_kits();
    let path = "/v1/designs/frame/revisions/A/recall";
    let refused = |change: &dyn Fn(&mut Value)| -> Vec<String> {
        let mut body = a_recall();
        change(&mut body);
        let problem = kits.server.post(path, &kits.publisher, &body).problem(422, "invalid-request");
        let errors = problem["errors"].as_array().unwrap().clone();
        errors.iter().map(|error| error["pointer"].as_str().unwrap().to_owned()).collect()
    };
    for field in ["hazard", "what_to_do", "remedies"] {
        assert_eq!(refused(&|body| drop(body.as_object_mut().unwrap().remove(field))), [format!("/{field}")]);
        assert_eq!(refused(&|body| body[field] = json!(" \n")), [format!("/{field}")]);
    }
    // Article 36 of Regulation (EU) 2023/988: no words that make the hazard seem smaller (from memory).
    assert_eq!(refused(&|body| body["what_to_do"] = json!("Take part in our Voluntary recall.")), ["/what_to_do"]);
    assert_eq!(kits.server.get("/v1/designs/frame/revisions/A", &kits.support).json()["state"], "superseded");
}

#[test]
fn packs_of_a_recalled_revision_wait_for_the_stop_sheet() {
    let kits = two_kits();
    let file = "/v1/kits/K-1/packs/1/file";
    let bytes = kits.server.get(file, &kits.first).expect(200).body;
    assert_eq!(kits.server.get("/v1/kits/K-1/stop-sheets", &kits.first).json()["stop_sheets"], json!([]));
    recall(&kits, "A");

    for token in [&kits.first, &kits.support, &kits.publisher] {
        let problem = kits.server.get(file, token).problem(409, "stop-sheet-first");
        assert!(problem["detail"].as_str().unwrap().contains("/v1/kits/K-1/stop-sheets/A"));
    }
    kits.server.send("HEAD", file, &kits.first, &[], None).expect(409);
    kits.server.post("/v1/kits/K-1/packs", &kits.support, &json!({})).problem(409, "not-in-force");
    // The other kit is on B and goes on.
    kits.server.get("/v1/kits/K-2/packs/1/file", &kits.second).expect(200);
    kits.server.get("/v1/kits/K-2/stop-sheets/A", &kits.second).problem(404, "not-recalled");

    let sheet = kits.server.get("/v1/kits/K-1/stop-sheets/A", &kits.first).expect(200).json();
    assert_eq!(sheet["heading"], "Product safety recall");
    for (name, text) in a_recall().as_object().unwrap() {
        assert_eq!(sheet[name], *text);
    }
    assert!(sheet.get("acknowledged_at").is_none());
    let plain = [("accept", "text/plain")];
    let told = kits.server.send("GET", "/v1/kits/K-1/stop-sheets/A", &kits.first, &plain, None).expect(200);
    let told = String::from_utf8(told.body).unwrap();
    assert!(told.starts_with("PRODUCT SAFETY RECALL\n") && told.contains("can be killed") && told.contains("K-1"));

    let acknowledge = "/v1/kits/K-1/stop-sheets/A/acknowledgement";
    let first = kits.server.send("POST", acknowledge, &kits.first, &[], None).expect(200).json();
    let again = kits.server.send("POST", acknowledge, &kits.first, &[], None).expect(200).json();
    assert_eq!(first["acknowledged_at"], again["acknowledged_at"], "the first time counts");
    assert_eq!(kits.server.get(file, &kits.first).expect(200).body, bytes);

    // A second recall is read afresh.
    let reason = json!({"reason": "Found to be safe."});
    kits.server.post("/v1/designs/frame/revisions/A/reinstatement", &kits.publisher, &reason).expect(200);
    kits.server.get(file, &kits.first).expect(200);
    recall(&kits, "A");
    kits.server.get(file, &kits.first).problem(409, "stop-sheet-first");
}

#[test]
fn the_ledger_of_a_recall_names_every_holder() {
    let kits = two_kits();
    for number in 3..6 {
        create_kit(&kits.server, &kits.publisher, &format!("K-{number}"), "frame", "A");
    }
    let ledger = "/v1/designs/frame/revisions/A/recall";
    kits.server.get(ledger, &kits.support).problem(404, "not-recalled");
    recall(&kits, "A");
    kits.server.send("POST", "/v1/kits/K-1/stop-sheets/A/acknowledgement", &kits.first, &[], None).expect(200);
    let told = kits.server.get(ledger, &kits.support).expect(200).json();
    assert_eq!((told["acknowledged"].as_u64(), told["open"].as_u64()), (Some(1), Some(3)));
    let serials: Vec<&str> = told["kits"].as_array().unwrap().iter().map(|kit| kit["kit"].as_str().unwrap()).collect();
    assert_eq!(serials, ["K-1", "K-3", "K-4", "K-5"]);
}

#[test]
fn a_step_sent_twice_with_one_key_is_one_step() {
    let kits = two_kits();
    let key = [("idempotency-key", "withdraw-a")];
    let body = json!({"reason": "For a test."}).to_string();
    let send =
        || kits.server.send("POST", "/v1/designs/frame/revisions/A/withdrawal", &kits.publisher, &key, Some(&body));
    let first = send().expect(200).json();
    assert_eq!(send().expect(200).json(), first);
}

#[test]
fn a_change_has_a_class_and_a_first_issue_need_not() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    let publish = |height: u32, body: Value| {
        let etag = put_draft(&server, &token, "frame", &frame(height));
        server.send("POST", "/v1/designs/frame/revisions", &token, &[("if-match", &etag)], Some(&body.to_string()))
    };
    let first = publish(900, json!({"change_note": "First issue."})).expect(201).json();
    assert!(first.get("class").is_none());
    let refused = publish(901, json!({"change_note": "Taller."})).problem(422, "invalid-request");
    assert_eq!(refused["errors"][0]["pointer"], "/class");
    let second = publish(901, json!({"change_note": "Taller.", "class": "mandatory"})).expect(201).json();
    assert_eq!(second["class"], "mandatory");
}
