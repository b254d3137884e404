//! A second person behind what is published.

use crate::fixtures::{another, broken_frame, create_design, frame, publish, publish_document, put_draft, two_kits};
use crate::server::{Answer, Server, run_on};
use serde_json::{Value, json};

fn freeze(server: &Server, token: &str, design: &str) -> Answer {
    server.send("POST", &format!("/v1/designs/{design}/draft/freeze"), token, &[("if-match", "*")], None)
}

fn id_of(server: &Server, token: &str, by: impl Fn(&Value) -> bool) -> String {
    let tokens = server.get("/v1/tokens", token).expect(200).json();
    let found = tokens["tokens"].as_array().unwrap().iter().find(|facts| by(facts)).unwrap();
    found["id"].as_str().unwrap().to_owned()
}

/// Who writes, who freezes (nobody when absent), who publishes, and how that is answered.
type Row = (usize, Option<usize>, usize, (u16, &'static str));

const TABLE: &[Row] = &[
    (0, None, 0, (409, "freeze-first")),
    (0, None, 1, (409, "freeze-first")),
    (0, Some(0), 0, (403, "second-person-needed")),
    (0, Some(0), 1, (201, "")),
    (0, Some(1), 0, (403, "second-person-needed")),
    (0, Some(1), 1, (403, "second-person-needed")),
    (0, Some(1), 2, (201, "")),
];

#[test]
fn who_wrote_or_froze_a_draft_does_not_publish_it() {
    let server = Server::start_with(&["--second-approver", "true"]);
    let first = server.publisher();
    let tokens = [first.clone(), another(&server), another(&server)];
    for (row, (writer, freezer, publisher, (status, kind))) in TABLE.iter().enumerate() {
        let design = format!("frame-{row}");
        create_design(&server, &first, &design);
        let etag = put_draft(&server, &tokens[*writer], &design, &frame(900));
        if let Some(freezer) = freezer {
            freeze(&server, &tokens[*freezer], &design).expect(200);
        }
        let path = format!("/v1/designs/{design}/draft/review");
        let review = server.get(&path, &tokens[*publisher]).expect(200).json();
        assert_eq!(review["waits_for_another"], json!(*status != 201), "row {row}");
        let answer = publish(&server, &tokens[*publisher], &design, &etag);
        if *status == 201 {
            let revision = answer.expect(201).json();
            assert_eq!(revision["document_sha256"], review["frozen"]["document_sha256"], "row {row}");
            let after = server.get(&path, &first).expect(200).json();
            assert_eq!((&after["state"], after.get("frozen")), (&json!("draft"), None), "row {row}");
        } else {
            answer.problem(*status, kind);
        }
    }
}

#[test]
fn a_rotated_token_is_no_second_person() {
    let server = Server::start_with(&["--second-approver", "true"]);
    let first = server.publisher();
    create_design(&server, &first, "frame");
    let etag = put_draft(&server, &first, "frame", &frame(900));
    freeze(&server, &first, "frame").expect(200);
    let mut token = first;
    for _ in 0..2 {
        let tokens = server.get("/v1/tokens", &token).json();
        let mine = tokens["tokens"].as_array().unwrap().iter().find(|token| token.get("revoked_at").is_none()).unwrap();
        let path = format!("/v1/tokens/{}/rotation", mine["id"].as_str().unwrap());
        let made = server.send("POST", &path, &token, &[], None).expect(201).json();
        token = made["token"].as_str().unwrap().to_owned();
        publish(&server, &token, "frame", &etag).problem(403, "second-person-needed");
    }
}

#[test]
fn a_token_made_or_rotated_by_who_wrote_the_draft_is_no_second_person() {
    let server = Server::start_with(&["--second-approver", "true"]);
    let (first, second) = (server.publisher(), another(&server));
    create_design(&server, &first, "frame");
    let etag = put_draft(&server, &first, "frame", &frame(900));
    freeze(&server, &first, "frame").expect(200);
    let made = |by: &str, name: &str| {
        let new = json!({"role": "publisher", "name": name});
        server.post("/v1/tokens", by, &new).expect(201).json()["token"].as_str().unwrap().to_owned()
    };
    let own = made(&first, "Own");
    let own_of_own = made(&own, "Own of own");
    for token in [&own, &own_of_own] {
        publish(&server, token, "frame", &etag).problem(403, "second-person-needed");
    }
    // Whoever rotates the token of somebody else gets to know the new one.
    let theirs = id_of(&server, &first, |facts| facts["name"].as_str().unwrap().starts_with("Mira"));
    let path = format!("/v1/tokens/{theirs}/rotation");
    let taken = server.send("POST", &path, &first, &[], None).expect(201).json();
    publish(&server, taken["token"].as_str().unwrap(), "frame", &etag).problem(403, "second-person-needed");
    publish(&server, &second, "frame", &etag).problem(401, "token-needed");
    publish(&server, &made(&another(&server), "Of another"), "frame", &etag).expect(201);
}

#[test]
fn a_token_is_made_on_the_machine_only_where_the_service_is_and_as_the_api_would() {
    let server = Server::start();
    let refused = run_on(&server.data, &["token", "--name", "two\nlines"]);
    let said = String::from_utf8_lossy(&refused.stderr);
    assert!(refused.status.code() == Some(2) && said.contains("/name"), "{said}");
    let done = run_on(&server.data, &["token", "--name", "Bench", "--role", "support", "--expires-in-days", "1"]);
    let token = String::from_utf8(done.stdout).unwrap().trim().to_owned();
    server.get("/v1/kits", &token).expect(200);
    server.get("/v1/tokens", &token).problem(403, "role-needed");
    let id = id_of(&server, &server.publisher(), |facts| facts["name"] == "Bench");
    let shown =
        id_of(&server, &server.publisher(), |facts| facts["id"] == id.as_str() && facts["expires_at"].is_string());
    assert_eq!(shown, id);
}

#[test]
fn only_what_could_be_published_is_frozen_and_any_publisher_thaws_it() {
    let server = Server::start();
    let first = server.publisher();
    let second = another(&server);
    create_design(&server, &first, "frame");
    freeze(&server, &first, "frame").problem(404, "no-draft");
    put_draft(&server, &first, "frame", &broken_frame());
    let path = "/v1/designs/frame/draft/freeze";
    server.send("POST", path, &first, &[("if-match", "\"other\"")], None).problem(412, "condition-failed");
    server.send("POST", path, &first, &[], None).problem(428, "condition-needed");
    freeze(&server, &first, "frame").problem(422, "design-has-errors");
    let etag = put_draft(&server, &first, "frame", &frame(900));
    let key = [("if-match", etag.as_str()), ("idempotency-key", "freeze")];
    let frozen = server.send("POST", path, &first, &key, None).expect(200).json();
    assert_eq!(server.send("POST", path, &first, &key, None).expect(200).json(), frozen);
    let review = server.get("/v1/designs/frame/draft/review", &second).expect(200).json();
    assert_eq!((&review["state"], &review["frozen"]), (&json!("frozen"), &frozen["frozen"]));
    assert!(review["frozen"].get("by_name").is_none(), "the first token has no name");
    server.send("POST", "/v1/designs/frame/draft/thaw", &second, &[], None).expect(200);
    put_draft(&server, &second, "frame", &frame(901));
    let review = server.get("/v1/designs/frame/draft/review", &first).json();
    assert!(review["saved_by_name"].as_str().unwrap().starts_with("Mira"), "{review}");
}

#[tokio::test]
async fn that_nobody_else_looked_is_on_record() {
    let server = Server::start();
    let first = server.publisher();
    let second = another(&server);
    create_design(&server, &first, "frame");
    publish_document(&server, &first, "frame", &frame(900));
    let etag = put_draft(&server, &first, "frame", &frame(901));
    freeze(&server, &first, "frame").expect(200);
    publish(&server, &first, "frame", &etag).expect(201);
    let etag = put_draft(&server, &first, "frame", &frame(902));
    freeze(&server, &first, "frame").expect(200);
    publish(&server, &second, "frame", &etag).expect(201);
    let mut records = server.data.open().await;
    let alone =
        records.lines("SELECT subject FROM audit WHERE action = 'publish-without-second-person' ORDER BY number").await;
    assert_eq!(alone, ["designs/frame/revisions/A", "designs/frame/revisions/B"]);
    let steps = records.lines("SELECT step FROM draft_reviews ORDER BY number").await;
    assert_eq!(steps, ["frozen", "published", "frozen", "published"]);
    for statement in ["UPDATE draft_reviews SET token = 'x'", "DELETE FROM draft_reviews"] {
        assert!(records.execute(statement).await.is_err(), "{statement}");
    }
}

#[test]
fn a_revision_follows_the_one_that_its_publisher_means() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    publish_document(&server, &token, "frame", &frame(900));
    publish_document(&server, &token, "frame", &frame(901));
    put_draft(&server, &token, "frame", &frame(902));
    let publish = |supersedes: &str| {
        let body: Value = json!({"change_note": "Taller.", "class": "optional", "supersedes": supersedes});
        let any = [("if-match", "*")];
        server.send("POST", "/v1/designs/frame/revisions", &token, &any, Some(&body.to_string()))
    };
    publish("A").problem(409, "state-forbids");
    publish("Y").problem(404, "unknown-revision");
    assert_eq!(publish("B").expect(201).json()["letter"], "C");
}

#[tokio::test]
async fn an_import_is_no_way_round_the_second_person() {
    let kits = two_kits();
    let file = kits.server.get("/v1/designs/frame/file", &kits.support).expect(200).body;
    let file = String::from_utf8(file).unwrap();
    let import = |server: &Server| server.send("POST", "/v1/design-files", &server.publisher(), &[], Some(&file));
    let strict = Server::start_with(&["--second-approver", "true"]);
    import(&strict).problem(403, "second-person-needed");
    strict.get("/v1/designs/frame", &strict.publisher()).problem(404, "unknown-design");
    let lenient = Server::start();
    import(&lenient).expect(201);
    let mut records = lenient.data.open().await;
    let alone = records.lines("SELECT subject FROM audit WHERE action = 'publish-without-second-person'").await;
    assert!(alone.len() == 1 && alone[0].starts_with("designs/frame/"), "{alone:?}");
}
