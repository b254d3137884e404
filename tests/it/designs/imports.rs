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

/// The sills in a place of their own, with what no file has.
fn with_words() -> Value {
    let server = Server::start();
    let token = server.publisher();
    let mut design =
        server.post("/v1/imports", &token, &request("sills.csv", SILLS)).expect(200).json()["design"].clone();
    design["members"][0]["note"] = json!("Weld last.");
    design["holes"] =
        json!({"drain.L": {"member": "sill.L", "station": 100, "clock": 0, "diameter": 6, "mirror": true}});
    design["steps"] = json!([{"after": "sill.L", "what": "Measure the diagonals."}]);
    design["options"] = json!({"tank": {"what": "The tank.", "choices": ["small", "large"]}});
    design["members"].as_array_mut().unwrap().push(
        json!({"id": "strap", "section": "RAIL", "from": [450, 0, 0], "to": [450, 0, 300], "when": {"tank": "large"}}),
    );
    design
}

#[test]
fn over_a_draft_what_moved_is_listed_and_what_only_the_draft_has_is_kept() {
    let server = Server::start();
    let token = server.publisher();
    let before = with_words();
    let wider = SILLS.replace("0,300,0,", "0,320,0,").replace("0,-300,0,", "0,-320,0,")
        + "bar,RAIL,0,-320,0,0,320,0,33.7,2.6\n";
    let mut request = request("sills.csv", &wider);
    request["over"] = before.clone();
    let answer = server.post("/v1/imports", &token, &request).expect(200).json();
    let comparison = &answer["report"]["comparison"];
    assert_eq!(comparison["moved"], json!([{"id": "sill.L", "by_mm": 20.0, "section_before": null}]));
    assert_eq!((&comparison["added"], &comparison["removed"]), (&json!(["bar"]), &json!(["strap"])));
    for field in ["holes", "steps", "options", "name"] {
        assert_eq!(answer["design"][field], before[field], "{field}");
    }
    assert_eq!(answer["design"]["members"][0]["note"], "Weld last.");
    // The strap went, and with it what was said of it: the report has it.
    let said = answer["report"]["findings"].to_string();
    assert!(said.contains("removed-with") && said.contains("large"), "{said}");
    server.post("/v1/designs", &token, &json!({"id": "sills", "name": "Sills"})).expect(201);
    put_draft(&server, &token, "sills", &answer["design"].to_string());
}

#[test]
fn the_command_brings_a_design_up_to_its_files() {
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str, text: &str| std::fs::write(folder.path().join(name), text).unwrap();
    file("sills.csv", &SILLS.replace("900,", "950,"));
    file("draft.json", &with_words().to_string());
    let done = import(&folder, &["sills.csv", "--over", "draft.json", "-o", "new.json", "--report", "report.json"]);
    assert_eq!(done.status.code(), Some(0));
    let said = String::from_utf8_lossy(&done.stdout).into_owned();
    for line in ["Kept as they were: 0.", "Moved: 1: sill.L.", "Removed: 1: strap.", "Gone, but still referred to: 0."]
    {
        assert!(said.contains(line), "{line}: {said}");
    }
    let new: Value = serde_json::from_str(&std::fs::read_to_string(folder.path().join("new.json")).unwrap()).unwrap();
    assert_eq!(new["holes"], with_words()["holes"]);
    // One that is no JSON is refused, and nothing is written over.
    file("draft.json", "{");
    let refused = import(&folder, &["sills.csv", "--over", "draft.json", "-o", "new.json"]);
    assert_eq!(refused.status.code(), Some(1));
    assert_eq!(
        serde_json::from_str::<Value>(&std::fs::read_to_string(folder.path().join("new.json")).unwrap()).unwrap(),
        new
    );
}
