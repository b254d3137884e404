//! Stock plans over HTTP and from the command line.

use crate::fixtures::{bars_and_parts, create_design, create_kit, frame, publish_document, two_kits};
use crate::server::{Server, binary};
use serde_json::{Value, json};
use std::io::{Read, Write};
use std::net::TcpStream;
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

/// Parts of many lengths in many bars: a plan that is not proven within seconds.
fn a_long_plan() -> Value {
    let parts: Vec<Value> = (0..300)
        .map(|index| json!({"id": format!("P{index}"), "length": 701.3 + f64::from(index * index % 997) * 1.7, "count": 3}))
        .collect();
    let lengths = [6000.0, 6096.0, 7315.0, 7500.0];
    let stock: Vec<Value> = lengths.iter().map(|length| json!({"length": length, "price": length / 97.3})).collect();
    json!({"kerf": 2.3, "trim": 5, "stock": stock, "parts": parts, "time_limit_s": 60})
}

#[test]
fn a_long_plan_tells_how_far_it_is() {
    let mut request = a_long_plan();
    request["time_limit_s"] = json!(5);
    let server = Server::start();
    let token = server.publisher();
    let accept = [("accept", "text/event-stream")];
    let answer = server.send("POST", "/v1/stock-plan", &token, &accept, Some(&request.to_string())).expect(200);
    assert_eq!(answer.header("content-type"), "text/event-stream");
    let text = String::from_utf8(answer.body).unwrap();
    let events: Vec<(&str, Value)> = text
        .split_terminator("\n\n")
        .map(|event| {
            let (name, data) = event.split_once('\n').unwrap();
            let data = serde_json::from_str(data.strip_prefix("data: ").unwrap()).unwrap();
            (name.strip_prefix("event: ").unwrap(), data)
        })
        .collect();
    let ((last, plan), before) = events.split_last().map(|(last, before)| ((last.0, &last.1), before)).unwrap();
    assert_eq!(last, "plan");
    assert!(before.len() >= 2 && before.iter().all(|(name, _)| *name == "progress"), "{text}");
    assert!(plan["cost"].as_f64() <= before[before.len() - 1].1["best"].as_f64(), "{text}");
    assert!(plan["bound"].as_f64() >= before[before.len() - 1].1["bound"].as_f64(), "{text}");

    let done = run(&request.to_string());
    assert_eq!(done.status.code(), Some(0));
    let told = String::from_utf8(done.stderr).unwrap();
    assert!(told.lines().any(|line| line.contains(" s: best ") && line.contains(" gap ")), "{told}");
}

#[test]
fn what_cannot_be_planned_is_a_problem_before_any_event() {
    let server = Server::start();
    let token = server.publisher();
    let mut request = bars_and_parts();
    request["kerf"] = json!(-1);
    let accept = [("accept", "text/event-stream")];
    let answer = server.send("POST", "/v1/stock-plan", &token, &accept, Some(&request.to_string()));
    assert_eq!(answer.problem(422, "stock-refused")["code"], "stock-length");
}

/// More plans than computations at once are begun and left; one that is wanted must not wait for their minute.
#[test]
fn a_plan_that_nobody_waits_for_is_given_up() {
    let server = Server::start();
    let token = server.publisher();
    let body = a_long_plan().to_string();
    for accept in ["text/event-stream", "application/json"].repeat(8) {
        let mut stream = TcpStream::connect(server.address()).unwrap();
        let length = body.len();
        let head = format!(
            "POST /v1/stock-plan HTTP/1.1\r\nhost: test\r\nauthorization: Bearer {token}\r\naccept: {accept}\r\n\
             content-type: application/json\r\ncontent-length: {length}\r\n\r\n"
        );
        stream.write_all(head.as_bytes()).unwrap();
        stream.write_all(body.as_bytes()).unwrap();
        if accept == "text/event-stream" {
            // Its first news: the work has begun.
            stream.read_exact(&mut [0; 16]).unwrap();
        }
    }
    server.post("/v1/stock-plan", &token, &bars_and_parts()).expect(200);
}

/// A document with a mirrored pair of square posts and rails mitred at both ends, and stock of one of its sections.
fn with_stock() -> String {
    let mut document: Value = serde_json::from_str(&frame(900)).unwrap();
    document["sections"]["box"] =
        json!({"rect": {"width": 40, "height": 40, "wall": 2, "corner": 4}, "material": "cds"});
    document["points"]["c.L"] = json!([1000, 400, 0]);
    document["points"]["d.L"] = json!([1000, 400, 500]);
    let rail = json!({
        "id": "rail.L", "section": "box", "from": "c.L", "to": "d.L", "mirror": true,
        "ends": {"from": {"mitre": {"normal": [1, 0, 1]}}, "to": {"mitre": {"normal": [1, 0, 1]}}}
    });
    document["members"].as_array_mut().unwrap().push(rail);
    document["stock"] = json!([
        {"section": "box", "lengths": [6000], "kerf": 1.5, "trim": 4, "min_remnant": 250},
        {"section": "hoop", "lengths": [6000, 7500]}
    ]);
    document.to_string()
}

/// A rail is 500 on its axis and 540 from long point to long point (45 degrees across 40); with 1 mm left on, twelve rails that share
/// eleven cuts take 12 x 541 - 11 (40 - 1.5 / cos 45) = 6075.3, eleven 5572.2 (derivable).
#[test]
fn the_stock_of_a_revision_is_planned_section_by_section() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    publish_document(&server, &token, "frame", &with_stock());
    create_kit(&server, &token, "K-1", "frame", "A");
    let body = json!({"kits": 5, "saw_allowance": 1, "sections": {"hoop": {"kerf": 3, "bundle": 4, "stock": [{"length": 6500, "price": 50}]}}});
    let plan = server.post("/v1/designs/frame/revisions/A/stock-plan", &token, &body).expect(200).json();
    let named: Vec<_> = plan["sections"].as_array().unwrap().iter().map(|section| &section["section"]).collect();
    assert_eq!(named, ["box", "hoop"]);
    assert_eq!(plan["without_stock"], json!([]));
    let rails = &plan["sections"][0];
    assert_eq!((&rails["kerf"], &rails["trim"], &rails["parts"][0]["count"]), (&json!(1.5), &json!(4.0), &json!(10)));
    assert_eq!((&rails["parts"][0]["length"], &rails["plan"]["bars"]), (&json!(541.0), &json!(1)));
    let used = 4.0 + 10.0 * 541.0 - 9.0 * 40.0 + 10.0 * 1.5 * 2.0_f64.sqrt();
    let remnant = rails["plan"]["patterns"][0]["remnant"].as_f64().unwrap();
    assert!((remnant - (6_000.0 - used)).abs() < 1e-2, "{remnant} {used}");
    assert_eq!(rails["plan"]["patterns"][0]["keep_remnant"], true);
    let posts = &plan["sections"][1];
    assert_eq!((&posts["kerf"], &posts["trim"], &posts["plan"]["cost"]), (&json!(3.0), &json!(5.0), &json!(100.0)));

    // The same for the kit, and for the kit among others.
    let of_kit = server.post("/v1/kits/K-1/stock-plan", &token, &body).expect(200).json();
    assert_eq!(of_kit["sections"], plan["sections"]);
    let of_kits =
        server.post("/v1/stock-plan/kits", &token, &json!({"serials": ["K-1"], "plan": body})).expect(200).json();
    assert_eq!(of_kits["sections"], plan["sections"]);

    let accept = [("accept", "text/csv")];
    let path = "/v1/designs/frame/revisions/A/stock-plan";
    let answer = server.send("POST", path, &token, &accept, Some(&body.to_string())).expect(200);
    assert!(answer.header("content-type").starts_with("text/csv"));
    let text = String::from_utf8(answer.body).unwrap();
    let lines: Vec<&str> = text.split_terminator("\r\n").collect();
    assert!(!text.replace("\r\n", "").contains('\n'));
    let cuts: usize = plan["sections"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|section| section["plan"]["patterns"].as_array().unwrap())
        .map(|pattern| pattern["saw"].as_array().unwrap().len())
        .sum();
    assert_eq!(lines.len(), 1 + cuts);
    let columns = lines[0].split(',').count();
    assert!(lines.iter().all(|line| line.split(',').count() == columns), "{text}");
    assert!(lines[1].starts_with("box,40 x 40 x 2,1,1,1,6000,1,"), "{text}");
    let number = rails["parts"][0]["number"].as_str().unwrap();
    assert!(lines[2].contains(&format!(",45,0,{number},")), "{text}");
}

#[test]
fn sections_without_stock_are_named_and_wrong_ones_refused() {
    let kits = two_kits();
    let path = "/v1/designs/frame/revisions/A/stock-plan";
    let none = kits.server.post(path, &kits.publisher, &json!({})).expect(200).json();
    assert_eq!(none["sections"], json!([]));
    assert_eq!(none["without_stock"], json!([{"section": "hoop", "size": "45 x 2.5", "parts": 2}]));
    let refused = |body: Value, kind: &str| {
        let problem = kits.server.post(path, &kits.publisher, &body).problem(422, kind);
        problem["errors"][0]["pointer"].as_str().unwrap().to_owned()
    };
    assert_eq!(refused(json!({"sections": {"no/hoop": {}}}), "invalid-request"), "/sections/no~1hoop");
    assert_eq!(refused(json!({"kits": 0}), "invalid-request"), "/kits");
    assert_eq!(refused(json!({"saw_allowance": -1}), "invalid-request"), "/saw_allowance");
    let short = json!({"sections": {"hoop": {"stock": [{"length": 400}]}}});
    assert_eq!(refused(short, "stock-refused"), "/sections/hoop");
    let trouble = json!({"sections": {"hoop": {"stock": [{"length": -1}]}}});
    assert_eq!(refused(trouble, "stock-refused"), "/sections/hoop/stock/0/length");

    // Posts of 900 and of 904 are two parts; both kits are cut together.
    let body = json!({"serials": ["K-1", "K-2"], "plan": {"sections": {"hoop": {"stock": [{"length": 6000}]}}}});
    let both = kits.server.post("/v1/stock-plan/kits", &kits.publisher, &body).expect(200).json();
    let parts = both["sections"][0]["parts"].as_array().unwrap();
    assert_eq!(parts.iter().map(|part| part["count"].as_u64().unwrap()).sum::<u64>(), 4);
    assert_eq!(parts.len(), 2);
    assert_ne!(parts[0]["id"], parts[1]["id"]);
    let unknown = json!({"serials": ["K-1", "K-9"]});
    let problem = kits.server.post("/v1/stock-plan/kits", &kits.publisher, &unknown).problem(422, "invalid-request");
    assert_eq!(problem["errors"][0]["pointer"], "/serials/1");
}

#[test]
fn mitres_share_cuts_over_http_too() {
    let server = Server::start();
    let token = server.publisher();
    let end = |clock: u32| json!({"mitre_deg": 45, "long_side_deg": clock});
    let request = json!({
        "kerf": 2, "trim": 5, "section": {"round": {"od": 40}}, "stock": [{"length": 6000}],
        "parts": [{"id": "A", "length": 500, "count": 12, "from": end(0), "to": end(180)}]
    });
    let plan = server.post("/v1/stock-plan", &token, &request).expect(200).json();
    assert_eq!((&plan["bars"], &plan["cost_without_nesting"]), (&json!(1), &json!(12_000.0)));
    let cuts = plan["patterns"][0]["saw"].as_array().unwrap();
    assert_eq!(cuts.len(), 13);
    assert_eq!(cuts[1]["ends"], json!({"id": "A", "end": "to"}));
    assert_eq!(cuts[1]["begins"], json!({"id": "A", "end": "from"}));
}
