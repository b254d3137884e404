//! What may become of a revision, over the whole table, and what each state means for kits and packs.

use crate::fixtures::{
    a_recall, create_design, create_kit, frame, new_kit, publish_document, put_draft, recall, two_kits,
};
use crate::server::{Answer, Server};
use serde_json::{Value, json};

const STATES: [&str; 6] = ["draft", "frozen", "published", "superseded", "withdrawn", "recalled"];

/// From which state what may be asked for; all else is refused.
const ALLOWED: &[(&str, &str)] = &[
    ("draft", "frozen"),
    ("draft", "published"),
    ("frozen", "draft"),
    ("frozen", "published"),
    ("published", "superseded"),
    ("published", "withdrawn"),
    ("published", "recalled"),
    ("superseded", "withdrawn"),
    ("superseded", "recalled"),
    ("withdrawn", "published"),
    ("withdrawn", "recalled"),
    ("recalled", "published"),
];

/// Brings a fresh design to the state for its revision A.
fn bring(server: &Server, token: &str, design: &str, state: &str) {
    create_design(server, token, design);
    put_draft(server, token, design, &frame(900));
    match state {
        "draft" => {}
        "frozen" => drop(ask(server, token, design, state, "frozen").expect(200)),
        "superseded" => {
            publish_document(server, token, design, &frame(900));
            publish_document(server, token, design, &frame(901));
        }
        _ => {
            publish_document(server, token, design, &frame(900));
            if state != "published" {
                ask(server, token, design, "published", state).expect(200);
            }
        }
    }
    assert_eq!(state_of(server, token, design), state);
}

/// Asks for revision A of a design, which is in one state, to be in another.
fn ask(server: &Server, token: &str, design: &str, from: &str, to: &str) -> Answer {
    let design = format!("/v1/designs/{design}");
    let any = [("if-match", "*")];
    let post = |path: &str, body: Value| {
        server.send("POST", &format!("{design}/{path}"), token, &any, Some(&body.to_string()))
    };
    let reason = || json!({"reason": "For a test."});
    match to {
        "draft" => server.send("POST", &format!("{design}/draft/thaw"), token, &[], None),
        "frozen" => server.send("POST", &format!("{design}/draft/freeze"), token, &any, None),
        "published" if ["draft", "frozen"].contains(&from) => post("revisions", json!({"change_note": "For a test."})),
        "published" => post("revisions/A/reinstatement", reason()),
        "superseded" => {
            if !["draft", "frozen"].contains(&from) {
                let written = server.send("PUT", &format!("{design}/draft"), token, &any, Some(&frame(960)));
                written.expect(204);
            }
            post("revisions", json!({"change_note": "For a test.", "class": "optional", "supersedes": "A"}))
        }
        "withdrawn" => post("revisions/A/withdrawal", reason()),
        _ => post("revisions/A/recall", a_recall()),
    }
}

/// The state of revision A, else that of the draft that is to be it.
fn state_of(server: &Server, token: &str, design: &str) -> String {
    let revision = server.get(&format!("/v1/designs/{design}/revisions/A"), token);
    let found = if revision.status == 200 {
        revision
    } else {
        server.get(&format!("/v1/designs/{design}/draft/review"), token).expect(200)
    };
    found.json()["state"].as_str().unwrap().to_owned()
}

fn document(server: &Server, token: &str, design: &str) -> Vec<u8> {
    server.get(&format!("/v1/designs/{design}/revisions/A/document"), token).expect(200).body
}

#[test]
fn from_every_state_every_other_is_reached_or_refused_as_the_table_says() {
    let server = Server::start();
    let token = server.publisher();
    for (row, from) in STATES.iter().enumerate() {
        for (column, to) in STATES.iter().enumerate() {
            let design = format!("frame-{row}-{column}");
            bring(&server, &token, &design, from);
            let published = row > 1;
            let before = published.then(|| document(&server, &token, &design));
            let answer = ask(&server, &token, &design, from, to);
            let after = state_of(&server, &token, &design);
            let told = format!("from {from} to {to}: {}", String::from_utf8_lossy(&answer.body));
            if ALLOWED.contains(&(from, to)) {
                assert!([200, 201].contains(&answer.status), "{told}");
                assert_eq!(after, *to, "{told}");
            } else {
                assert_eq!(answer.status, 409, "{told}");
                // What was published last is not frozen: it says so by itself.
                let same = published && *to == "frozen";
                let problem = answer.problem(409, if same { "nothing-changed" } else { "state-forbids" });
                let possible = if same { "Change it" } else { "It can be " };
                assert!(problem["detail"].as_str().unwrap().contains(possible), "{told}");
                assert_eq!(after, *from, "{told}");
            }
            if let Some(before) = before {
                assert_eq!(document(&server, &token, &design), before, "{told}: the revision itself never changes");
            }
        }
    }
}

#[test]
fn the_draft_is_written_in_every_state_but_frozen() {
    let server = Server::start();
    let token = server.publisher();
    for state in STATES {
        let design = format!("frame-{state}");
        bring(&server, &token, &design, state);
        let path = format!("/v1/designs/{design}/draft");
        let before = server.get(&path, &token).expect(200).body;
        let revision = (!["draft", "frozen"].contains(&state)).then(|| document(&server, &token, &design));
        let any = [("if-match", "*")];
        let write = || server.send("PUT", &path, &token, &any, Some(&frame(970)));
        let save = json!({"save": 1}).to_string();
        let restore = || server.send("POST", &format!("{path}/restoration"), &token, &any, Some(&save));
        if state == "frozen" {
            let problem = write().problem(409, "state-forbids");
            assert!(problem["detail"].as_str().unwrap().contains("thawed"), "{problem}");
            restore().problem(409, "state-forbids");
            assert_eq!(server.get(&path, &token).expect(200).body, before);
        } else {
            write().expect(204);
            assert_eq!(server.get(&path, &token).expect(200).body, frame(970).as_bytes());
            restore().expect(204);
            assert_eq!(server.get(&path, &token).expect(200).body, frame(900).as_bytes());
        }
        assert_eq!(state_of(&server, &token, &design), state);
        if let Some(revision) = revision {
            assert_eq!(document(&server, &token, &design), revision);
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
    // Nor is there another way for the builder to what is built from.
    let sheets = "/v1/designs/frame/revisions/A";
    let (cut_sheet, wrap) = (format!("{sheets}/cut-sheet"), format!("{sheets}/wraps/post.L/to/pdf"));
    let solid = format!("{sheets}/members/post.L/solid.step");
    let manifest = "/v1/kits/K-1/packs/1/manifest".to_owned();
    let to_build_from = [manifest, cut_sheet, wrap, solid];
    for path in &to_build_from {
        kits.server.get(path, &kits.first).problem(409, "stop-sheet-first");
    }
    let plan = json!({"sections": {"hoop": {"stock": [{"length": 6000}]}}});
    kits.server.post("/v1/kits/K-1/stock-plan", &kits.first, &plan).problem(409, "stop-sheet-first");
    kits.server.post(&format!("{sheets}/stock-plan"), &kits.first, &plan).problem(409, "stop-sheet-first");
    assert_eq!(kits.server.get("/v1/kits/K-1/packs/1", &kits.first).expect(200).json()["state"], "recalled");
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
    for path in &to_build_from {
        kits.server.get(path, &kits.first).expect(200);
    }

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
