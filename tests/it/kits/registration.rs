//! Kits: found, moved, boxed, noted, imported by the file.

use crate::fixtures::{create_design, frame, new_kit, publish_document, two_kits};
use crate::server::{Answer, Server};
use serde_json::{Value, json};

fn serials(server: &Server, token: &str, query: &str) -> Vec<String> {
    let body = server.get(&format!("/v1/kits?{query}"), token).expect(200).json();
    body["kits"].as_array().unwrap().iter().map(|kit| kit["serial"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn kits_are_found_by_customer_and_by_order() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    publish_document(&server, &token, "frame", &frame(900));
    for (serial, name, email, order) in [
        ("K-1", "Ines Halvard", "ines@example.com", "2026-1"),
        ("K-2", "Łukasz 100% Orłowski", "l_o@example.org", "2026-2"),
        ("K-3", "Ines Halvard", "ines@example.com", "2026-2"),
    ] {
        let mut kit = new_kit(serial, "frame", "A");
        kit["customer"] = json!({"name": name, "email": email});
        kit["order_number"] = json!(order);
        server.post("/v1/kits", &token, &kit).expect(201);
    }
    let found = |query: &str| serials(&server, &token, query);
    assert_eq!(found("customer=halv"), ["K-1", "K-3"]);
    assert_eq!(found("customer=INES@"), ["K-1", "K-3"]);
    assert_eq!(found("customer=%C5%82ukasz"), ["K-2"], "small and capital letters are alike beyond ASCII too");
    assert_eq!(found("customer=100%25"), ["K-2"]);
    // What means something in a pattern means itself.
    assert_eq!(found("customer=l_o%40"), ["K-2"]);
    assert_eq!(found("customer=i_es"), [] as [&str; 0]);
    assert_eq!(found("order_number=2026-2"), ["K-2", "K-3"]);
    assert_eq!(found("order_number=2026-2&customer=ines"), ["K-3"]);
    let customer = |serial: &str| server.get(&format!("/v1/kits/{serial}"), &token).json()["customer_id"].clone();
    assert_eq!(customer("K-1"), customer("K-3"), "the same name and address is the same customer");
    assert_ne!(customer("K-1"), customer("K-2"));
}

#[test]
fn a_kit_moves_with_a_reason_and_its_history_stays() {
    let kits = two_kits();
    let path = "/v1/kits/K-1/moves";
    let to = |revision: &str, reason: &str| {
        kits.server.post(path, &kits.publisher, &json!({"revision": revision, "reason": reason}))
    };
    to("B", "").problem(422, "invalid-request");
    to("Z", "No such one.").problem(404, "unknown-revision");
    to("A", "It has it.").problem(409, "kit-has-revision");
    let moved = to("B", "Posts replaced.").expect(201).json();
    assert_eq!((&moved["number"], &moved["from"], &moved["to"]), (&json!(1), &json!("A"), &json!("B")));

    // The builder now reads B and no longer A; the pack of A stays and is fetched as before.
    assert_eq!(kits.server.get("/v1/kits/K-1", &kits.first).json()["revision"], "B");
    kits.server.get("/v1/designs/frame/revisions/B/cut-sheet", &kits.first).expect(200);
    kits.server.get("/v1/designs/frame/revisions/A/cut-sheet", &kits.first).problem(404, "not-found");
    kits.server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200);
    let issued = kits.server.post("/v1/kits/K-1/packs", &kits.support, &json!({})).expect(201).json();
    assert_eq!((&issued["number"], &issued["revision"]), (&json!(2), &json!("B")));

    to("A", "The new posts were for another kit.").expect(201);
    let moves = kits.server.get(path, &kits.first).expect(200).json();
    let told: Vec<(&str, &str)> = moves["moves"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| (one["to"].as_str().unwrap(), one["reason"].as_str().unwrap()))
        .collect();
    assert_eq!(told, [("B", "Posts replaced."), ("A", "The new posts were for another kit.")]);

    let reason = json!({"reason": "For a test."});
    kits.server.post("/v1/designs/frame/revisions/B/withdrawal", &kits.publisher, &reason).expect(200);
    to("B", "It is withdrawn.").problem(409, "not-in-force");
}

#[test]
fn boxes_hold_every_part_once_and_weigh_what_their_parts_weigh() {
    let kits = two_kits();
    let path = "/v1/kits/K-1/boxes";
    let put = |boxes: Value| {
        let body = json!({"boxes": boxes}).to_string();
        kits.server.send("PUT", path, &kits.support, &[("if-match", "*")], Some(&body))
    };
    let refused = |boxes: Value| -> Vec<String> {
        let problem = put(boxes).problem(422, "invalid-request");
        problem["errors"]
            .as_array()
            .unwrap()
            .iter()
            .map(|error| error["pointer"].as_str().unwrap().to_owned())
            .collect()
    };
    assert_eq!(refused(json!([{"name": "1", "parts": ["post.X"]}])), ["/boxes/0/parts/0"]);
    let twice = json!([{"name": "1", "parts": ["post.L"]}, {"name": "2", "parts": ["post.R", "post.L"]}]);
    assert_eq!(refused(twice), ["/boxes/1/parts/1"]);
    assert_eq!(refused(json!([{"name": "", "parts": [], "packing_kg": -1}])), ["/boxes/0/name", "/boxes/0/packing_kg"]);

    let told = put(json!([{"name": "1 of 1", "parts": ["post.L"], "packing_kg": 1.5}])).expect(200).json();
    assert_eq!(told["unboxed"], json!(["post.R"]));
    assert_eq!(kits.server.get(path, &kits.first).expect(200).json(), told);
    // A tube of 45 x 2.5 cut by a plane square to nothing else: the mean of its wall is as long as its centreline, 900 mm.
    // Volume by the closed form pi (R^2 - r^2) L, steel of 7850 kg/m3.
    let kg = std::f64::consts::PI * (22.5_f64.powi(2) - 20.0_f64.powi(2)) * 900.0 * 7850e-9;
    let mass = told["boxes"][0]["parts_kg"].as_f64().unwrap();
    assert!((mass - kg).abs() < 1e-3, "{mass} instead of {kg}");
    assert!((told["total_kg"].as_f64().unwrap() - mass - 1.5).abs() < 1e-9);
}

#[test]
fn notes_are_for_the_suppliers_people() {
    let kits = two_kits();
    let path = "/v1/kits/K-1/notes";
    kits.server.post(path, &kits.support, &json!({"text": " "})).problem(422, "invalid-request");
    kits.server.post(path, &kits.support, &json!({"text": "Asked about the scale bars."})).expect(201);
    let told = kits.server.post(path, &kits.publisher, &json!({"text": "Sent new posts."})).expect(201).json();
    let texts: Vec<&str> =
        told["notes"].as_array().unwrap().iter().map(|note| note["text"].as_str().unwrap()).collect();
    assert_eq!(texts, ["Asked about the scale bars.", "Sent new posts."]);
    kits.server.get(path, &kits.first).problem(404, "not-found");
}

fn import(server: &Server, token: &str, headers: &[(&str, &str)], text: &str) -> Answer {
    let mut all = headers.to_vec();
    if !headers.iter().any(|(name, _)| *name == "content-type") {
        all.push(("content-type", "text/csv"));
    }
    server.send("POST", "/v1/kit-imports", token, &all, Some(text))
}

const GOOD: &str = "serial,design,revision,customer_name,customer_email,order_number\r\n\
    N-1,frame,A,\"Halvard, Ines\",ines@example.com,2026-7\r\n\
    N-2,frame,B,Tobin Marsh,tobin@example.org,\r\n";

#[test]
fn a_file_of_kits_is_taken_in_whole() {
    let kits = two_kits();
    let key = [("idempotency-key", "file-1")];
    let told = import(&kits.server, &kits.publisher, &key, GOOD).expect(201).json();
    assert_eq!(told, json!({"kits": 2, "serials": ["N-1", "N-2"]}));
    assert_eq!(import(&kits.server, &kits.publisher, &key, GOOD).expect(201).json(), told);
    let kit = kits.server.get("/v1/kits/N-1", &kits.support).expect(200).json();
    assert_eq!((&kit["customer"]["name"], &kit["order_number"]), (&json!("Halvard, Ines"), &json!("2026-7")));
    import(&kits.server, &kits.publisher, &[("content-type", "text/plain")], GOOD).problem(415, "media-type");
}

#[test]
fn a_file_with_faults_names_them_all_and_leaves_nothing() {
    let kits = two_kits();
    let refused = |text: &str| -> Vec<String> {
        let problem = import(&kits.server, &kits.publisher, &[], text).problem(422, "kits-not-imported");
        let errors = problem["errors"].as_array().unwrap().clone();
        errors.iter().map(|error| error["pointer"].as_str().unwrap().to_owned()).collect()
    };
    let text = format!(
        "{GOOD}K-1,frame,A,A,a@example.com,\n\
         N-1,frame,A,A,a@example.com,\n\
         n 5,frame,A,A,nobody,\n\
         N-6,none,A,A,a@example.com,\n\
         N-7,frame,Z,A,a@example.com,\n\
         N-8,frame\n\
         \"N-9\",\"frame\",A,\"Two\nlines\",a@example.com,\n\
         N-10,frame,B,A,a@example.com,\n"
    );
    assert_eq!(
        refused(&text),
        [
            "/4/serial",
            "/5/serial",
            "/6/serial",
            "/6/customer_email",
            "/7/design",
            "/8/revision",
            "/9/",
            "/10/customer_name"
        ]
    );
    assert!(serials(&kits.server, &kits.support, "serial=N-").is_empty(), "nothing half done");
    assert_eq!(refused("serial,design,revision,customer_name\n"), ["/1/customer_email"]);
    assert_eq!(refused(&GOOD.replace("order_number", "colour")), ["/1/colour"]);
    assert_eq!(refused("serial,design,revision,customer_name,customer_email\n"), ["/1/"]);
    let chosen =
        "serial,design,revision,customer_name,customer_email,choices\nN-1,frame,A,A,a@example.com,drive=left\n";
    assert_eq!(refused(chosen), ["/2/choices"]);
    let reason = json!({"reason": "For a test."});
    kits.server.post("/v1/designs/frame/revisions/A/withdrawal", &kits.publisher, &reason).expect(200);
    assert_eq!(refused(GOOD), ["/2/revision"]);
}
