//! Single joints described in a request.

use crate::fixtures::saddle;
use crate::server::Server;
use serde_json::{Value, json};

/// Least and greatest height of the outer line.
fn heights(answer: &Value) -> (f64, f64) {
    let runs: Vec<Vec<[f64; 2]>> = serde_json::from_value(answer["wrap"]["outer"].clone()).unwrap();
    let heights: Vec<f64> = runs.iter().flatten().map(|point| point[1]).collect();
    (heights.iter().copied().fold(f64::INFINITY, f64::min), heights.iter().copied().fold(f64::NEG_INFINITY, f64::max))
}

#[test]
fn saddles_are_as_deep_as_the_closed_form_says() {
    let server = Server::start();
    let token = server.publisher();
    // A square saddle is R - sqrt(R^2 - r^2) deep (exact, derivable): whole numbers for these radii.
    for (bar, tube, depth) in [(50.0, 30.0, 10.0), (25.0, 15.0, 5.0), (65.0, 25.0, 5.0), (65.0, 60.0, 40.0)] {
        let mut request = saddle();
        request["tube"]["round"]["od"] = json!(2.0 * tube);
        request["onto"][0]["round"]["od"] = json!(2.0 * bar);
        let answer = server.post("/v1/joints/wrap", &token, &request).expect(200).json();
        let (least, most) = heights(&answer);
        assert!((most - least - depth).abs() < 0.001, "{tube} onto {bar}: {}", most - least);
        assert_eq!(answer["wrap"]["fits"], json!(["onto-1"]));
        assert_eq!(answer["findings"], json!([]));
    }
}

#[test]
fn the_other_end_can_be_the_one_that_is_cut() {
    let server = Server::start();
    let token = server.publisher();
    let there = server.post("/v1/joints/wrap", &token, &saddle()).expect(200).json();
    let mut request = saddle();
    request["tube"] = json!({"round": {"od": 60, "wall": 3}, "from": [0, 0, 0], "to": [0, 0, 400]});
    request["end"] = json!("from");
    let here = server.post("/v1/joints/wrap", &token, &request).expect(200).json();
    assert_eq!(here["wrap"]["end"], "from");
    assert_eq!(here["wrap"]["overall"], there["wrap"]["overall"]);
    // A root gap of g grows the bar: R + g - sqrt((R + g)^2 - r^2) (derivable).
    request["gap"] = json!(2);
    let gap = server.post("/v1/joints/wrap", &token, &request).expect(200).json();
    let (least, most) = heights(&gap);
    assert!((most - least - (52.0 - f64::sqrt(52.0 * 52.0 - 900.0))).abs() < 0.001);
}

#[test]
fn a_mitre_of_two_equal_tubes_rises_by_the_tangent_of_half_the_turn() {
    let server = Server::start();
    let token = server.publisher();
    let request = json!({
        "tube": {"round": {"od": 40, "wall": 2}, "from": [0, 0, 400], "to": [0, 0, 0]},
        "end": "to", "cut": "mitre",
        "onto": [{"round": {"od": 40, "wall": 2}, "from": [0, 0, 0], "to": [400, 0, 0]}]
    });
    let answer = server.post("/v1/joints/wrap", &token, &request).expect(200).json();
    // A right angle halved is 45 degrees: od x tan 45 from the short to the long point (derivable).
    let (least, most) = heights(&answer);
    assert!((most - least - 40.0).abs() < 0.001);
}

#[test]
fn it_is_drawn_as_svg_and_pdf() {
    let server = Server::start();
    let token = server.publisher();
    let svg = server.post("/v1/joints/wrap/svg", &token, &saddle()).expect(200);
    assert_eq!(svg.header("content-type"), "image/svg+xml");
    assert!(String::from_utf8(svg.body).unwrap().contains("onto-1"));
    let pdf = server.post("/v1/joints/wrap/pdf?paper=letter", &token, &saddle()).expect(200);
    assert_eq!(pdf.header("content-type"), "application/pdf");
    assert!(pdf.body.starts_with(b"%PDF-"));
    server.post("/v1/joints/wrap/pdf?paper=a0", &token, &saddle()).problem(400, "bad-request");
}

#[test]
fn what_is_wrong_is_named_by_its_place_in_the_request() {
    let server = Server::start();
    let token = server.publisher();
    let refused = |change: &dyn Fn(&mut Value)| {
        let mut request = saddle();
        change(&mut request);
        server.post("/v1/joints/wrap", &token, &request).problem(422, "joint-refused")["findings"][0].clone()
    };
    let found = |finding: &Value| (finding["code"].clone(), finding["pointer"].clone());
    let wall = refused(&|request| request["onto"][0]["round"]["wall"] = json!(-4));
    assert_eq!(wall["pointer"], "/onto/0/round/wall");
    let apart = refused(&|request| request["tube"]["to"] = json!([0, 0, 200]));
    assert_eq!(found(&apart), (json!("cope-misses"), json!("/tube")));
    let none = refused(&|request| request["onto"] = json!([]));
    assert_eq!(found(&none), (json!("joint-onto"), json!("/onto")));
    let colour = refused(&|request| request["tube"]["colour"] = json!("red"));
    assert_eq!(found(&colour), (json!("joint-field"), json!("/tube/colour")));
    let place = refused(&|request| {
        request["tube"].as_object_mut().unwrap().remove("to");
    });
    assert!(place["pointer"].as_str().unwrap().starts_with("/tube"), "{place}");
    // A key that no request has is refused before anything is computed.
    let mut request = saddle();
    request["colour"] = json!("red");
    server.post("/v1/joints/wrap", &token, &request).problem(422, "invalid-request");
}

#[test]
fn a_part_that_misses_is_told() {
    let server = Server::start();
    let token = server.publisher();
    let mut request = saddle();
    request["tube"]["round"]["od"] = json!(110);
    let answer = server.post("/v1/joints/wrap", &token, &request).expect(200).json();
    let codes: Vec<&Value> = answer["findings"].as_array().unwrap().iter().map(|finding| &finding["code"]).collect();
    assert!(codes.contains(&&json!("cope-misses-part")), "{codes:?}");
    assert!(!answer["wrap"]["misses"].as_array().unwrap().is_empty());
}
