//! A kit on hold: nothing to build from is handed out, and every warning still arrives.

use crate::browser::Browser;
use crate::fixtures::{TwoKits, recall, two_kits};
use serde_json::{Value, json};

const ASK: &str = "Test Frames, kits@mail.example.";

fn hold(kits: &TwoKits, serial: &str) -> Value {
    let body = json!({"reason": "Reported stolen by Ada Karlsen.", "ask": ASK});
    kits.server.post(&format!("/v1/kits/{serial}/holds"), &kits.publisher, &body).expect(201).json()
}

fn lift(kits: &TwoKits, path: &str) -> Value {
    kits.server.post(path, &kits.publisher, &json!({"reason": "It was found."})).expect(200).json()
}

/// What a hold of K-1 keeps from its builder, and from the supplier's own people.
const KEPT: &[(&str, &str, bool, bool)] = &[
    ("GET", "/v1/kits/K-1/packs/1/file", true, true),
    ("HEAD", "/v1/kits/K-1/packs/1/file", true, true),
    ("GET", "/v1/kits/K-1/packs/1/manifest", true, true),
    ("POST", "/v1/kits/K-1/packs", true, true),
    ("GET", "/v1/kits/K-1/files", true, true),
    ("GET", "/v1/kits/K-1/files/cut-sheet.csv", true, true),
    ("GET", "/v1/kits/K-1/files/all.zip", true, true),
    ("GET", "/v1/designs/frame/revisions/A/files/frame.step", true, false),
    ("GET", "/v1/designs/frame/revisions/A/cut-sheet", true, false),
    ("GET", "/v1/designs/frame/revisions/A/wraps/post.L/to/pdf", true, false),
    ("GET", "/v1/designs/frame/revisions/A/members/post.L/solid.step", true, false),
    ("POST", "/v1/kits/K-1/stock-plan", true, false),
    ("POST", "/v1/designs/frame/revisions/A/stock-plan", true, false),
];

/// What stays open to its builder.
const OPEN: &[&str] = &[
    "/v1/kits/K-1",
    "/v1/kits/K-1/holds",
    "/v1/kits/K-1/packs",
    "/v1/kits/K-1/packs/1",
    "/v1/kits/K-1/notices",
    "/v1/kits/K-1/stop-sheets",
    "/v1/designs/frame/revisions/A",
];

#[test]
fn nothing_to_build_from_is_handed_out_while_a_hold_stands() {
    let kits = two_kits();
    let plan = json!({"sections": {"hoop": {"stock": [{"length": 6000}]}}}).to_string();
    let send = |method: &str, path: &str, token: &str| {
        let body = match (method, path.ends_with("stock-plan")) {
            ("POST", true) => Some(plan.as_str()),
            ("POST", false) => Some("{}"),
            _ => None,
        };
        kits.server.send(method, path, token, &[], body)
    };
    let file = kits.server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200).body;
    let held = hold(&kits, "K-1");
    for (method, path, builder, desk) in KEPT {
        for (token, kept) in [(&kits.first, builder), (&kits.support, desk), (&kits.publisher, desk)] {
            let answer = send(method, path, token);
            if *kept && *method == "HEAD" {
                answer.expect(409);
            } else if *kept {
                let problem = answer.problem(409, "kit-on-hold");
                assert!(problem["detail"].as_str().unwrap().contains(ASK), "{problem}");
                assert!(!problem.to_string().contains("stolen"), "{problem}");
            } else {
                assert_ne!(answer.status, 409, "{method} {path}");
            }
        }
    }
    for path in OPEN {
        kits.server.get(path, &kits.first).expect(200);
    }
    // The other kit goes on.
    kits.server.get("/v1/kits/K-2/packs/1/file", &kits.second).expect(200);
    let lifted = lift(&kits, &format!("/v1/kits/K-1/holds/{}/lifting", held["number"]));
    assert!(lifted["lifted_at"].is_string());
    for (method, path, builder, _) in KEPT {
        if *builder {
            let good = if path.ends_with("/packs") { 201 } else { 200 };
            assert_eq!(send(method, path, &kits.first).status, good, "{method} {path}");
        }
    }
    assert_eq!(kits.server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200).body, file);
    kits.server.post("/v1/kits/K-1/packs", &kits.support, &json!({})).expect(201);
}

#[test]
fn a_job_passes_by_a_kit_on_hold_and_says_so() {
    let kits = two_kits();
    hold(&kits, "K-1");
    let made = kits.server.post("/v1/designs/frame/revisions/A/pack-jobs", &kits.support, &json!({"paper": "letter"}));
    assert_eq!(made.expect(202).json()["number"], 1);
    let results = || kits.server.get("/v1/pack-jobs/1/kits", &kits.support).expect(200).json()["kits"].clone();
    while kits.server.get("/v1/pack-jobs/1", &kits.support).json().get("finished_at").is_none_or(Value::is_null) {
        std::thread::sleep(std::time::Duration::from_millis(50));
    }
    let first = results()[0].clone();
    assert_eq!((&first["kit"], &first["state"]), (&json!("K-1"), &json!("refused")), "{first}");
    assert_eq!(first["problem"]["code"], "kit-on-hold", "{first}");
}

#[test]
fn warnings_reach_the_holder_all_the_same() {
    let kits = two_kits();
    hold(&kits, "K-1");
    let notice = json!({"from": "A", "to": "B", "class": "mandatory", "text": "Posts are 4 mm too short."});
    kits.server.post("/v1/designs/frame/notices", &kits.publisher, &notice).expect(201);
    recall(&kits, "A");
    assert_eq!(kits.server.get("/v1/kits/K-1/notices", &kits.first).json()["notices"].as_array().unwrap().len(), 1);
    kits.server.send("POST", "/v1/kits/K-1/notices/1/acknowledgement", &kits.first, &[], None).expect(200);
    // The stop sheet is spoken of before the hold.
    kits.server.get("/v1/kits/K-1/packs/1/file", &kits.first).problem(409, "stop-sheet-first");
    kits.server.get("/v1/kits/K-1/stop-sheets/A", &kits.first).expect(200);
    kits.server.send("POST", "/v1/kits/K-1/stop-sheets/A/acknowledgement", &kits.first, &[], None).expect(200);
    kits.server.get("/v1/kits/K-1/packs/1/file", &kits.first).problem(409, "kit-on-hold");
    let ledger = kits.server.get("/v1/designs/frame/revisions/A/recall", &kits.support).expect(200).json();
    assert_eq!(ledger["acknowledged"], 1);
}

#[tokio::test]
async fn a_hold_is_put_once_lifted_once_and_on_record() {
    let kits = two_kits();
    let path = "/v1/kits/K-1/holds";
    let body = json!({"reason": "Not paid.", "ask": ASK});
    kits.server.post(path, &kits.support, &body).problem(403, "role-needed");
    let refused = kits.server.post(path, &kits.publisher, &json!({})).problem(422, "invalid-request");
    assert_eq!(refused["errors"].as_array().unwrap().len(), 2);
    let key = [("idempotency-key", "hold")];
    let send = || kits.server.send("POST", path, &kits.publisher, &key, Some(&body.to_string()));
    let first = send().expect(201).json();
    assert_eq!(send().expect(201).json(), first);
    kits.server.post(path, &kits.publisher, &body).problem(409, "held-already");
    kits.server
        .post("/v1/kits/K-1/holds/2/lifting", &kits.publisher, &json!({"reason": "x"}))
        .problem(404, "unknown-hold");
    let lifting = "/v1/kits/K-1/holds/1/lifting";
    kits.server.post(lifting, &kits.support, &json!({"reason": "x"})).problem(403, "role-needed");
    let lifted = lift(&kits, lifting);
    assert_eq!(lift(&kits, lifting), lifted, "a second time changes nothing");
    assert_eq!(hold(&kits, "K-1")["number"], 2);
    // Its builder sees since when and whom to ask, not why.
    let seen = kits.server.get(path, &kits.first).expect(200).json();
    let shown: Vec<&String> = seen["holds"][1].as_object().unwrap().keys().collect();
    assert_eq!(shown, ["number", "ask", "at"]);
    let known = kits.server.get(path, &kits.support).expect(200).json();
    assert_eq!(
        (&known["holds"][0]["reason"], &known["holds"][0]["lift_reason"]),
        (&json!("Not paid."), &json!("It was found."))
    );
    let mut records = kits.server.data.open().await;
    let acts = records
        .lines("SELECT action || ' ' || subject FROM audit WHERE subject LIKE '%/holds/%' ORDER BY number")
        .await;
    assert_eq!(acts, ["hold-kit kits/K-1/holds/1", "lift-hold kits/K-1/holds/1", "hold-kit kits/K-1/holds/2"]);
    // Reasons may name people, and go with them.
    let kit = kits.server.get("/v1/kits/K-1", &kits.support).json();
    let erasure = format!("/v1/customers/{}/erasure", kit["customer_id"].as_str().unwrap());
    kits.server.send("POST", &erasure, &kits.publisher, &[], None).expect(200);
    let known = kits.server.get(path, &kits.support).expect(200).json();
    assert!(known["holds"].as_array().unwrap().iter().all(|hold| hold["reason"] == ""), "{known}");
    kits.server.get("/v1/kits/K-1/packs/1/file", &kits.support).problem(409, "kit-on-hold");
}

#[test]
fn the_page_of_a_kit_says_so_in_plain_words() {
    let kits = two_kits();
    let mut desk = Browser::with_token(&kits.server, &kits.publisher);
    let form = "/kits/K-1/holds";
    desk.get("/kits/K-1").expect(200).says("Put on hold");
    desk.fill_in(form, form, &[("reason", ""), ("ask", ASK)]).expect(422).says("href=\"#reason\"").says(ASK);
    desk.fill_in(form, form, &[("reason", "Not <paid>."), ("ask", ASK)]).expect(303);
    let builder = Browser::with_token(&kits.server, &kits.first);
    builder
        .get("/kits/K-1")
        .expect(200)
        .says("On hold since")
        .says("hands out no drawings")
        .says(ASK)
        .says("Warnings still reach you")
        .says_nothing_of("paid")
        .says_nothing_of("Download pack")
        .says_nothing_of("/kits/K-1/packs/1");
    builder.get("/kits/K-1/packs/1").expect(409).says("The kit is on hold").says(ASK);
    builder.get(form).expect(404);
    let support = Browser::with_token(&kits.server, &kits.support);
    support.get("/support?q=K-1").expect(200).says("On hold since").says("Not &lt;paid&gt;.");
    support.get("/kits/K-1").says_nothing_of("Issue a new pack").says_nothing_of("Lift the hold");
    desk.fill_in(form, "/kits/K-1/holds/1/lifting", &[("reason", "Paid.")]).expect(303);
    builder.get("/kits/K-1").says("Download pack 1").says_nothing_of("On hold");
    desk.get(form).says("Lifted: Paid.");
}
