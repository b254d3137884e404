//! Frames read from files, over HTTP and from the command line.

use crate::fixtures::put_draft;
use crate::server::{Server, binary};
use data_encoding::BASE64;
use serde_json::{Value, json};
use std::process::{Command, Output};

/// A right-hand and a left-hand tube as a row each.
const SILLS: &str = "name,section,x1 [mm],y1 [mm],z1 [mm],x2 [mm],y2 [mm],z2 [mm],od [mm],wall [mm]\n\
    sill.L,RAIL,0,300,0,900,280,0,33.7,2.6\nsill.R,RAIL,0,-300,0,900,-280,0,33.7,2.6\n";
/// A line on a layer, in no unit.
const LINE: &str =
    "0\nSECTION\n2\nENTITIES\n0\nLINE\n8\nRAIL\n10\n0\n20\n3\n30\n0\n11\n40\n21\n3\n31\n0\n0\nENDSEC\n0\nEOF\n";

fn request(name: &str, text: &str) -> Value {
    json!({"files": [{"name": name, "base64": BASE64.encode(text.as_bytes())}]})
}

#[test]
fn a_table_becomes_a_design_that_a_draft_can_be() {
    let server = Server::start();
    let token = server.publisher();
    let answer = server.post("/v1/imports", &token, &request("sills.csv", SILLS)).expect(200).json();
    assert_eq!(answer["report"]["outcome"], "read");
    assert_eq!(answer["report"]["counts"], json!({"tubes": 2, "bent": 0, "pairs": 1, "sections": 1}));
    let member = &answer["design"]["members"][0];
    assert_eq!((&member["id"], &member["mirror"]), (&json!("sill.L"), &json!(true)));
    assert_eq!(answer["design"]["sections"]["RAIL"]["round"], json!({"od": 33.7, "wall": 2.6}));
    assert!(answer["findings"].is_array());
    server.post("/v1/designs", &token, &json!({"id": "sills", "name": "Sills"})).expect(201);
    put_draft(&server, &token, "sills", &answer["design"].to_string());
}

#[test]
fn open_questions_come_with_the_report_and_are_answered_in_the_next_request() {
    let server = Server::start();
    let token = server.publisher();
    let mut request = request("rail.dxf", LINE);
    let answer = server.post("/v1/imports", &token, &request).expect(200).json();
    assert_eq!((&answer["design"], &answer["report"]["outcome"]), (&Value::Null, &json!("unanswered")));
    let stops: Vec<&Value> =
        answer["report"]["questions"].as_array().unwrap().iter().map(|one| &one["field"]).collect();
    assert_eq!(stops, ["unit", "sections"]);
    request["answers"] = json!({"unit": "in", "sections": {"*": {"od": 30, "wall": 2}}});
    let answer = server.post("/v1/imports", &token, &request).expect(200).json();
    assert_eq!(answer["design"]["points"]["p2"], json!([1016.0, 76.2, 0.0]));
}

#[test]
fn what_cannot_be_read_is_refused_with_its_place() {
    let server = Server::start();
    let token = server.publisher();
    let answer = server.post("/v1/imports", &token, &request("rail.dxf", &LINE[..40])).expect(200).json();
    assert_eq!(answer["report"]["outcome"], "refused");
    assert_eq!(answer["report"]["findings"][0]["code"], "truncated");
    let bad = json!({"files": [{"name": "a.dxf", "base64": "?"}]});
    let problem = server.post("/v1/imports", &token, &bad).problem(422, "invalid-request");
    assert_eq!(problem["errors"][0]["pointer"], "/files/0/base64");
    server.post("/v1/imports", &token, &json!({"files": []})).problem(422, "invalid-request");
}

fn import(folder: &tempfile::TempDir, arguments: &[&str]) -> Output {
    Command::new(binary()).arg("import").args(arguments).current_dir(folder.path()).output().unwrap()
}

#[test]
fn the_command_writes_a_design_or_asks_and_always_reports() {
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str, text: &str| std::fs::write(folder.path().join(name), text).unwrap();
    let written = |name: &str| -> Option<Value> {
        std::fs::read_to_string(folder.path().join(name)).ok().map(|text| serde_json::from_str(&text).unwrap())
    };
    file("rail.dxf", LINE);
    let asked = import(&folder, &["rail.dxf", "-o", "out.json", "--report", "report.json"]);
    assert_eq!(asked.status.code(), Some(1));
    assert!(written("out.json").is_none());
    assert_eq!(written("report.json").unwrap()["outcome"], "unanswered");
    assert!(String::from_utf8_lossy(&asked.stdout).contains("question[unit]"));
    file("answers.json", r#"{"unit": "mm", "sections": {"RAIL": {"od": 6, "wall": 1}}, "name": "One rail"}"#);
    let told = import(&folder, &["rail.dxf", "--answers", "answers.json", "-o", "out.json"]);
    assert_eq!(told.status.code(), Some(0), "{}", String::from_utf8_lossy(&told.stdout));
    assert_eq!(written("out.json").unwrap()["name"], "One rail");
    assert_eq!(import(&folder, &["absent.dxf", "-o", "out.json"]).status.code(), Some(2));
}
