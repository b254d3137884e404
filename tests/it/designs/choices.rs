//! Designs with more combinations of choices than can be looked at one by one, and kits that are computed before they are taken.

use crate::fixtures::{create_design, new_kit, publish, publish_document, put_draft, two_kits};
use crate::place::on_postgres;
use crate::server::Server;
use serde_json::{Value, json};

/// A rail with ten braces, each there under the choice "yes" of an option of its own: 1,024 combinations.
fn ten_options(apart: f64) -> Value {
    let brace = |number: u8| {
        let x = f64::from(number) * apart - 450.0;
        json!({"id": format!("brace{number}"), "section": "brace", "from": [x, 0, 0], "to": [x, 0, 300],
            "ends": {"to": "square"}, "when": {format!("o{number}"): "yes"}})
    };
    let rail = json!({"id": "rail", "section": "rail", "from": [-500, 0, 0], "to": [600, 0, 0],
        "ends": {"from": "square", "to": "square"}});
    let option = |number: u8| (format!("o{number}"), json!({"what": "A brace", "choices": ["no", "yes"]}));
    json!({
        "format": "matchmark-design/1", "name": "Ten Options",
        "materials": {"cds": {"name": "cold drawn seamless", "density": 7850}},
        "sections": {
            "rail": {"round": {"od": 45, "wall": 2.5}, "material": "cds"},
            "brace": {"round": {"od": 30, "wall": 2}, "material": "cds"}
        },
        "points": {},
        "members": std::iter::once(rail).chain((0..10).map(brace)).collect::<Vec<_>>(),
        "options": (0..10).map(option).collect::<serde_json::Map<_, _>>()
    })
}

fn drafted(document: &Value) -> (Server, String, String) {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    let etag = put_draft(&server, &token, "frame", &document.to_string());
    (server, token, etag)
}

#[test]
fn what_goes_wrong_only_with_two_of_ten_options_stops_publishing() {
    let mut document = ten_options(100.0);
    // The fifth brace hangs on the fourth, which is not always there.
    document["members"][5]["ends"] = json!({"from": {"cope": ["rail"]}, "to": {"cope": ["brace3"]}});
    document["members"][5]["to"] = json!([-150, 0, 200]);
    let (server, token, etag) = drafted(&document);
    let problem = publish(&server, &token, "frame", &etag).problem(422, "design-has-errors");
    let finding = &problem["findings"][0];
    assert_eq!(finding["code"], "target-left-out");
    let message = finding["message"].as_str().unwrap();
    assert!(message.starts_with("With o3 no, o4 yes: "), "{message}");
    let review = server.send("POST", "/v1/designs/frame/draft/freeze", &token, &[("if-match", &etag)], None);
    review.problem(422, "design-has-errors");
}

#[test]
fn ten_options_that_meet_nowhere_are_looked_at_and_said_to_be() {
    let (server, token, etag) = drafted(&ten_options(100.0));
    let path = "/v1/designs/frame/draft/findings";
    let first = server.get(path, &token).expect(200).json();
    assert_eq!(first["all_choices"], false);
    let all = server.get(&format!("{path}?all_choices=true"), &token).expect(200).json();
    assert_eq!((&all["all_choices"], &all["errors"]), (&json!(true), &json!(0)));
    let note = all["findings"].as_array().unwrap().iter().find(|one| one["code"] == "choices-by-groups").unwrap();
    assert!(note["message"].as_str().unwrap().contains("1024 combinations"), "{note}");
    publish(&server, &token, "frame", &etag).expect(201);
    let mut kit = new_kit("K-1", "frame", "A");
    kit["choices"] = json!({"o2": "yes", "o7": "yes"});
    server.post("/v1/kits", &token, &kit).expect(201);
    kit["serial"] = json!("K-2");
    kit["choices"] = json!({"o2": "perhaps"});
    server.post("/v1/kits", &token, &kit).problem(422, "invalid-request");
}

#[test]
fn ten_options_that_all_meet_in_one_place_are_refused_by_name() {
    let (server, token, etag) = drafted(&ten_options(4.0));
    let problem = publish(&server, &token, "frame", &etag).problem(422, "design-has-errors");
    let finding = &problem["findings"][0];
    assert_eq!(finding["code"], "too-many-combinations");
    assert!(finding["message"].as_str().unwrap().contains("`o0`, `o1`"), "{finding}");
    let all = server.get("/v1/designs/frame/draft/findings?all_choices=true", &token).expect(200).json();
    assert_eq!(all["all_choices"], false, "so it does not say that all were looked at");
}

/// A revision as an older engine may have let it through: its document has an error that is found today.
#[tokio::test]
async fn a_kit_is_computed_whatever_was_looked_at_when_its_revision_was_published() {
    let kits = two_kits();
    let other = ten_options(100.0).to_string().replace("cold drawn seamless", "steel");
    publish_document(&kits.server, &kits.publisher, "frame", &other);
    let mut records = kits.server.data.open().await;
    let without = if on_postgres() {
        "ALTER TABLE revisions DISABLE TRIGGER USER"
    } else {
        "DROP TRIGGER IF EXISTS revisions_never_change"
    };
    records.execute(without).await.unwrap();
    let spoiled = r#"UPDATE revisions SET document = replace(document, '"section":"rail"', '"section":"nail"') WHERE letter = 'C'"#;
    records.execute(spoiled).await.unwrap();
    let problem =
        kits.server.post("/v1/kits", &kits.publisher, &new_kit("K-9", "frame", "C")).problem(422, "invalid-request");
    let error = &problem["errors"][0];
    assert_eq!(error["pointer"], "/revision");
    assert!(error["detail"].as_str().unwrap().contains("nail"), "{problem}");
    let file = "serial,design,revision,customer_name,customer_email\r\nK-9,frame,C,A. Builder,builder@example.com\r\n";
    let headers = [("content-type", "text/csv")];
    let problem = kits.server.send("POST", "/v1/kit-imports", &kits.publisher, &headers, Some(file));
    assert!(problem.problem(422, "kits-not-imported")["errors"][0]["detail"].as_str().unwrap().contains("nail"));
    let body = json!({"revision": "C", "reason": "For a test."});
    kits.server.post("/v1/kits/K-1/moves", &kits.publisher, &body).problem(422, "invalid-request");
}
