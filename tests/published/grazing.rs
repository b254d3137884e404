//! What is said of an end whose wall only just touches, only just misses, or goes into an open end: against cases computed by rays
//! outside this project (`tests/cases/grazing.json`; 7,200 generators an end).

use crate::document::{codes, document};
use matchmark_core::document::{Finding, Severity};
use matchmark_core::part::closed_by_weld;
use serde_json::{Value, json};

/// The codes of which an end has one at most.
const ONE_OF: [&str; 4] = ["cope-misses", "cope-misses-part", "cope-gap-small", "cope-into-open-end"];

fn vector(value: &Value) -> [f64; 3] {
    std::array::from_fn(|axis| value[axis].as_f64().unwrap())
}

fn section(given: &Value) -> Value {
    let shape = if given.get("od").is_some() { "round" } else { "rect" };
    json!({shape: given, "material": "steel"})
}

/// The tube, fitted to its targets; a target's bar runs from `back` mm behind `at` to `far`.
fn case_frame(case: &Value) -> Value {
    let mut sections = serde_json::Map::new();
    let mut members = Vec::new();
    for target in case["targets"].as_array().unwrap() {
        let id = target["id"].as_str().unwrap();
        let (at, far) = (vector(&target["at"]), vector(&target["far"]));
        let length = (0..3).map(|axis| (far[axis] - at[axis]).powi(2)).sum::<f64>().sqrt();
        let back = target["back"].as_f64().unwrap() / length;
        let from: [f64; 3] = std::array::from_fn(|axis| at[axis] - back * (far[axis] - at[axis]));
        sections.insert(id.to_owned(), section(&target["section"]));
        members.push(
            json!({"id": id, "section": id, "from": from, "to": far, "ends": {"from": "square", "to": "square"}}),
        );
    }
    let onto: Vec<&Value> = case["targets"].as_array().unwrap().iter().map(|target| &target["id"]).collect();
    let tube = &case["tube"];
    sections.insert("b".to_owned(), section(&tube["section"]));
    members.push(json!({"id": "b", "section": "b", "from": tube["at"], "to": tube["far"],
        "ends": {"from": {"cope": onto}, "to": "square"}}));
    document(json!({"sections": sections, "members": members}))
}

fn findings(frame: &Value) -> Vec<Finding> {
    let found = matchmark_core::evaluate(&frame.to_string()).findings;
    found.into_iter().filter(|finding| ONE_OF.contains(&finding.code.as_str())).collect()
}

/// The number before ` mm` that follows some words of a sentence.
fn figure(message: &str, words: &str) -> Option<f64> {
    let rest = &message[message.find(words)? + words.len()..];
    rest[..rest.find(" mm")?].parse().ok()
}

fn judge(case: &Value) -> Vec<String> {
    let (expected, found) = (&case["expected"], findings(&case_frame(case)));
    let mut faults = Vec::new();
    if found.len() as u64 > expected["at_most"].as_u64().unwrap() {
        faults.push(format!("{} findings", found.len()));
    }
    let must_not = expected["must_not"].as_array().unwrap();
    faults.extend(found.iter().filter(|one| must_not.contains(&json!(one.code))).map(|one| one.message.clone()));
    let report = &expected["report"];
    if report.is_null() {
        return faults;
    }
    let Some(one) = found.iter().find(|one| one.code == report["code"].as_str().unwrap()) else {
        faults.push(format!("lacks {}", report["code"]));
        return faults;
    };
    if json!(one.severity) != report["severity"] {
        faults.push(format!("severity {:?}", one.severity));
    }
    let outline = figure(&one.message, " mm over ").or_else(|| figure(&one.message, ": all "));
    for (name, got, tolerance) in [
        ("by", figure(&one.message, "by up to "), 0.01),
        ("arc_mm", outline, 0.2),
        ("run_on", figure(&one.message, "run on by "), 0.02),
    ] {
        let wanted = report[name]
            .as_f64()
            .filter(|&wanted| wanted > 0.0 && one.severity != Severity::Information || name != "run_on");
        match (got, wanted) {
            (Some(got), Some(wanted)) if (got - wanted).abs() > tolerance + 1e-9 => {
                faults.push(format!("{name} {got} instead of {wanted}"))
            }
            (None, Some(wanted)) if wanted > 0.0 => faults.push(format!("{name} is not said: {}", one.message)),
            _ => {}
        }
    }
    if report["cause"] != "open-end" {
        let clock = one.message.split("most at ").nth(1).and_then(|rest| rest.split(' ').next()?.parse::<f64>().ok());
        if clock.zip(report["worst_clock"].as_f64()).is_none_or(|(got, wanted)| (got - wanted).abs() > 1.0) {
            faults.push(format!("worst at {clock:?} instead of {}", report["worst_clock"]));
        }
    }
    faults
}

#[test]
fn an_end_has_one_finding_with_its_worst_place_its_outline_and_its_remedy() {
    let cases: Value = serde_json::from_str(include_str!("../cases/grazing.json")).unwrap();
    let cases = cases["cases"].as_array().unwrap();
    let failed: Vec<String> = cases
        .iter()
        .flat_map(|case| {
            judge(case).into_iter().map(move |fault| format!("{} ({}): {fault}", case["id"], case["what"]))
        })
        .collect();
    assert!(cases.len() >= 12 && failed.is_empty(), "{}", failed.join("\n"));
}

#[test]
fn what_the_weld_closes_is_half_a_millimetre_or_a_quarter_of_the_wall() {
    assert_eq!([1.2, 2.0, 3.0].map(closed_by_weld), [0.3, 0.5, 0.5]);
}

fn tube(id: &str, from: [f64; 3], to: [f64; 3], cut: Value) -> Value {
    json!({"id": id, "section": "brace", "from": from, "to": to, "ends": {"from": cut, "to": "square"}})
}

/// Equal tubes whose axes lie 0.02 mm apart: the wall passes by less than anybody can draw. The line round the tube is closed.
#[test]
fn a_wall_that_touches_has_an_unbroken_line() {
    let frame = document(json!({"members": [
        {"id": "a", "section": "brace", "from": [-200, 0, 0], "to": [200, 0, 0], "ends": {"from": "square", "to": "square"}},
        tube("b", [0.0, 0.0, 0.02], [0.0, 300.0, 0.02], json!({"cope": ["a"]})),
    ]}));
    let evaluation = matchmark_core::evaluate(&frame.to_string());
    assert_eq!(codes(&frame), Vec::<String>::new());
    let made = evaluation.made.unwrap();
    let end = &made.parts[1].ends[0];
    let perimeter = end.cut.profile().perimeter();
    assert_eq!((end.outer.breaks(perimeter).len(), end.missed.len()), (0, 0));
    // Along the crown the generator lies on the axis of the other tube: nearest approach at its own station 0.
    let crown = end.outer.at(0.0).unwrap();
    assert!(crown.abs() < 1e-3, "{crown}");
    let steps = end.outer.runs.iter().flat_map(|run| run.windows(2)).map(|pair| (pair[1].s - pair[0].s).abs());
    assert!(steps.fold(0.0, f64::max) < 1.0, "the line does not jump");
}

/// Three equal tubes at a corner: two mitred to each other, the third fitted to both. Equal tubes whose axes meet in a point touch
/// all round (closed form: they meet in the planes that halve their angles).
#[test]
fn a_correct_corner_of_three_equal_tubes_gives_no_finding() {
    let third = |along: [f64; 3]| {
        document(json!({"members": [
            tube("a", [0.0; 3], [400.0, 0.0, 0.0], json!({"mitre": {"with": "b"}})),
            tube("b", [0.0; 3], [0.0, 400.0, 0.0], json!({"mitre": {"with": "a"}})),
            tube("c", [0.0; 3], along, json!({"cope": ["a", "b"]})),
        ]}))
    };
    for along in [[0.0, 0.0, 400.0], [-150.0, -120.0, 350.0], [200.0, 200.0, 300.0], [150.0, -200.0, 300.0]] {
        let frame = third(along);
        assert_eq!(codes(&frame), Vec::<String>::new(), "{along:?}");
        let made = matchmark_core::evaluate(&frame.to_string()).made.unwrap();
        let end = &made.parts[2].ends[0];
        // The third lies before the planes that halve its angles with the others until r (v . a) / (1 - c . a) is largest, and
        // is on one of them there (derivable); where that lies behind the node it may meet them before.
        let tube = end.cut.end();
        for step in 0..36 {
            let u = tube.profile.perimeter() * f64::from(step) / 36.0;
            let normal = tube.normal(u);
            let out = [matchmark_core::geometry::DVec3::X, matchmark_core::geometry::DVec3::Y];
            let station = out.map(|axis| 15.0 * normal.dot(axis) / (1.0 + tube.outwards.dot(axis)));
            let wanted = -station[0].max(station[1]);
            let got = end.outer.at(u).unwrap();
            assert!(got < wanted + 0.006, "{along:?} at {u}: {got}, which is past {wanted}");
            let between = station.iter().all(|station| *station >= 0.0);
            assert!(!between || got > wanted - 0.006, "{along:?} at {u}: {got} instead of {wanted}");
        }
    }
}

/// Three equal tubes of a tripod, all leaning 30 degrees from the vertical.
#[test]
fn a_tripod_of_three_equal_tubes_gives_no_finding() {
    let foot = |turn: f64| {
        let (sin, cos) = f64::to_radians(turn).sin_cos();
        [200.0 * cos, 200.0 * sin, -346.41]
    };
    let frame = document(json!({"members": [
        tube("a", [0.0; 3], foot(0.0), json!({"mitre": {"with": "b"}})),
        tube("b", [0.0; 3], foot(120.0), json!({"mitre": {"with": "a"}})),
        tube("c", [0.0; 3], foot(240.0), json!({"cope": ["a", "b"]})),
    ]}));
    assert_eq!(findings(&frame), []);
}

/// A tube in line on one that ends: a smaller one falls into the bore, one as wide as the wall's edge lands on that.
#[test]
fn a_tube_on_an_open_end_is_told_by_where_it_lands() {
    let in_line = |od: f64, wall: f64, cut: Value| {
        let frame = document(json!({
            "sections": {
                "large": {"round": {"od": 40, "wall": 2}, "material": "steel"},
                "small": {"round": {"od": od, "wall": wall}, "material": "steel"},
            },
            "members": [
                {"id": "a", "section": "large", "from": [-300, 0, 0], "to": [0, 0, 0], "ends": {"from": "square", "to": "square"}},
                {"id": "b", "section": "small", "from": [0, 0, 0], "to": [300, 0, 0], "ends": cut},
            ],
        }));
        let found = findings(&frame);
        // Running on in its own line mends nothing.
        assert!(found.iter().all(|finding| !finding.message.contains("run on")), "{found:?}");
        found.into_iter().map(|finding| (finding.code, finding.severity)).collect::<Vec<_>>()
    };
    let open = |severity| vec![("cope-into-open-end".to_owned(), severity)];
    let found_alone = || json!({"to": "square"});
    assert_eq!(in_line(30.0, 2.0, found_alone()), open(Severity::Error));
    assert_eq!(in_line(38.0, 2.0, found_alone()), open(Severity::Information));
    assert_eq!(in_line(40.0, 3.0, found_alone()), [], "one outside: a butt");
    let named = json!({"from": {"cope": ["a"]}, "to": "square"});
    assert_eq!(in_line(50.0, 2.0, named), vec![("cope-misses".to_owned(), Severity::Error)]);
}

/// A post coped to a rail ends on the rail: what is fitted to the post alone does not meet what the cope took off.
#[test]
fn where_a_target_was_coped_only_what_is_left_of_it_is_met() {
    let frame = |onto: Value| {
        document(json!({"members": [
            {"id": "rail", "section": "hoop", "from": [-300, 0, 0], "to": [300, 0, 0], "ends": {"from": "square", "to": "square"}},
            tube("post", [0.0; 3], [0.0, 0.0, 300.0], json!({"cope": ["rail"]})),
            tube("b", [0.0, 0.0, 15.0], [0.0, 300.0, 15.0], json!({"cope": onto})),
        ]}))
    };
    assert_eq!(findings(&frame(json!(["rail", "post"]))), []);
    let alone = findings(&frame(json!(["post"])));
    assert_eq!(alone.len(), 1, "{alone:?}");
    assert_eq!(alone[0].code, "cope-misses-part");
}

/// A lattice of equal tubes drawn to its nodes, every end left to the engine, which fits none of it well.
#[test]
fn a_frame_that_fits_badly_has_one_finding_an_end_and_cause() {
    let mut members = Vec::new();
    for x in 0..3 {
        for y in 0..3 {
            let node = |x: i32, y: i32, z: i32| json!([x * 300, y * 300, z * 300]);
            for (far, name) in
                [(node(x + 1, y, 0), "x"), (node(x, y + 1, 0), "y"), (node(x, y, 1), "z"), (node(x + 1, y + 1, 1), "d")]
            {
                members
                    .push(json!({"id": format!("{name}{x}{y}"), "section": "brace", "from": node(x, y, 0), "to": far}));
            }
        }
    }
    let found = findings(&document(json!({"members": members})));
    assert!(!found.is_empty());
    let mut ends: Vec<(String, bool)> = Vec::new();
    for finding in &found {
        let end =
            (finding.pointer.clone(), finding.message.contains("End 1 of") || finding.message.contains("end 1 of"));
        assert!(!ends.contains(&end), "{}", finding.message);
        ends.push(end);
        assert!(!finding.message.contains("by up to 0.00 mm"), "{}", finding.message);
    }
}
