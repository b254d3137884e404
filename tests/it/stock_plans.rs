//! Stock plans over HTTP and from the command line.

use crate::fixtures::bars_and_parts;
use crate::server::{Server, binary};
use serde_json::{Value, json};
use std::io::Write;
use std::process::{Command, Output, Stdio};

fn run(text: &str) -> Output {
    let mut command = Command::new(binary());
    command.args(["stock-plan", "-"]).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().unwrap();
    child.stdin.take().unwrap().write_all(text.as_bytes()).unwrap();
    child.wait_with_output().unwrap()
}

/// Both bars end flush, so neither last cut takes anything (derivable).
#[test]
fn a_plan_keeps_the_rules_of_the_saw() {
    let server = Server::start();
    let token = server.publisher();
    let plan = server.post("/v1/stock-plan", &token, &bars_and_parts()).expect(200).json();
    let expected = json!({
        "bars": 2, "cost": 83.0, "bound": 83.0, "optimal": true,
        "patterns": [
            {"stock_length": 6000.0, "count": 1, "cuts": [{"id": "A", "count": 2}], "remnant": 0.0},
            {"stock_length": 6000.0, "count": 1, "cuts": [{"id": "B", "count": 4}], "remnant": 0.0}
        ]
    });
    assert_eq!(plan, expected);
    let done = run(&bars_and_parts().to_string());
    assert_eq!(done.status.code(), Some(0));
    assert_eq!(serde_json::from_slice::<Value>(&done.stdout).unwrap(), expected);
}

#[test]
fn what_cannot_be_planned_is_named_by_its_place() {
    let server = Server::start();
    let token = server.publisher();
    let cases: [(&str, Value, &str, &str); 5] = [
        ("/kerf", json!(-1), "stock-length", "/kerf"),
        ("/parts/1/length", json!(5997), "stock-part-too-long", "/parts/1/length"),
        ("/parts/1/id", json!("A"), "stock-part-twice", "/parts/1/id"),
        ("/stock/0/count", json!(1), "stock-too-few", "/stock"),
        ("/parts/0/count", json!(0), "stock-count", "/parts/0/count"),
    ];
    for (place, value, code, pointer) in cases {
        let mut request = bars_and_parts();
        *request.pointer_mut(place).unwrap() = value;
        let problem = server.post("/v1/stock-plan", &token, &request).problem(422, "stock-refused");
        assert_eq!((&problem["code"], &problem["errors"][0]["pointer"]), (&json!(code), &json!(pointer)));
        let done = run(&request.to_string());
        assert_eq!(done.status.code(), Some(1));
        assert!(done.stdout.is_empty());
        let told = String::from_utf8(done.stderr).unwrap();
        assert!(told.contains(code) && told.contains(pointer), "{told}");
    }
    let mut request = bars_and_parts();
    request["parts"][0]["colour"] = json!("red");
    server.post("/v1/stock-plan", &token, &request).problem(422, "invalid-request");
}
