//! Open ends decided by rule: against cases computed by rays outside this project (`tests/cases/nodes.json`), and against what must
//! hold for any node.

use crate::document::document;
use matchmark_core::document::Severity;
use matchmark_core::nodes::{Report, ReportedEnd, resolve};
use proptest::prelude::*;
use serde_json::{Map, Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// How near the figures of the cases are to be met, mm: the one of their own README.
const NEAR: f64 = 0.02;

/// Codes with which a node is refused, so that its figures do not count.
const REFUSED: [&str; 5] =
    ["too-sharp", "in-line-unequal", "run-on-too-long", "larger-onto-smaller", "order-against-size"];

type Vector = [f64; 3];

fn vector(value: &Value) -> Vector {
    std::array::from_fn(|axis| value[axis].as_f64().unwrap())
}

fn section(given: &Value) -> Value {
    if given.get("od").is_some() {
        return json!({"round": given, "material": "steel"});
    }
    // In a document the height points towards clock angle 0; in a case the width does.
    let mut rect = given.clone();
    (rect["width"], rect["height"]) = (given["height"].clone(), given["width"].clone());
    json!({"rect": rect, "material": "steel"})
}

/// The document of a case: its ends as `from` ends, in build order.
fn case_document(case: &Value) -> Value {
    let mut ends: Vec<&Value> = case["ends"].as_array().unwrap().iter().collect();
    ends.sort_by_key(|end| end["order"].as_u64());
    let (mut sections, mut members) = (Map::new(), Vec::new());
    for end in ends {
        let id = end["id"].as_str().unwrap();
        let (at, far) = (vector(&end["at"]), vector(&end["far"]));
        let length = (0..3).map(|axis| (far[axis] - at[axis]).powi(2)).sum::<f64>().sqrt();
        let back = end["back"].as_f64().unwrap_or(0.0) / length;
        let from: Vector = std::array::from_fn(|axis| at[axis] - back * (far[axis] - at[axis]));
        sections.insert(id.to_owned(), section(&end["section"]));
        let mut cuts = json!({"to": "square"});
        match &end["explicit"] {
            Value::Null if back > 0.0 => cuts["from"] = json!("square"),
            Value::Null => {}
            explicit => cuts["from"] = explicit.clone(),
        }
        members.push(json!({"id": id, "section": id, "from": from, "to": far, "ends": cuts}));
    }
    document(json!({"sections": sections, "members": members}))
}

fn report(document: &Value) -> Report {
    resolve(&document.to_string()).report
}

/// What is decided of the ends of a case, by id.
fn answers(report: &Report) -> BTreeMap<&str, &ReportedEnd> {
    // Of a tube that passes that is what counts, not its free end.
    let ends = report.ends.iter().filter(|end| end.end == 1 || end.role == "passes");
    ends.map(|end| (end.member.as_str(), end)).collect()
}

fn codes(report: &Report) -> BTreeSet<&str> {
    let codes = report.findings.iter().map(|finding| finding.code.as_str());
    codes.filter(|code| !["one-tube", "order-of-placing"].contains(code)).collect()
}

fn faults(expected: &Value, report: &Report) -> Vec<String> {
    let wanted = expected["findings"].as_array().into_iter().flatten().filter_map(|finding| finding["code"].as_str());
    let wanted: BTreeSet<&str> = wanted.filter(|code| *code != "one-tube").collect();
    let (got, answers) = (codes(report), answers(report));
    let mut faults = Vec::new();
    if wanted != got {
        faults.push(format!("findings {got:?} instead of {wanted:?}"));
    }
    if wanted.iter().any(|code| REFUSED.contains(code)) {
        return faults;
    }
    for (id, end) in expected["ends"].as_object().into_iter().flatten() {
        let Some(answer) = answers.get(id.as_str()) else {
            faults.push(format!("{id}: no answer"));
            continue;
        };
        let alike = |role: &str| if role == "butt" { "mitre".to_owned() } else { role.to_owned() };
        if alike(end["role"].as_str().unwrap()) != alike(answer.role) {
            faults.push(format!("{id}: {} instead of {}", answer.role, end["role"]));
            continue;
        }
        let onto = end["onto"].as_array().unwrap();
        if onto.iter().any(|target| !answer.onto.iter().any(|name| target == name)) {
            faults.push(format!("{id}: onto {:?} instead of {onto:?}", answer.onto));
        }
        if end["partner"].as_str().is_some_and(|partner| answer.partner.as_deref().is_some_and(|name| name != partner))
        {
            faults.push(format!("{id}: partner {:?}", answer.partner));
        }
        let is_near = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => (a - b).abs() <= NEAR,
            (a, b) => a.is_none() && b.is_none(),
        };
        for (name, got) in [("run_on", answer.run_on), ("long", answer.long), ("short", answer.short)] {
            let wanted = end[name].as_f64();
            if wanted.is_some() && !is_near(got, wanted) {
                faults.push(format!("{id}: {name} {got:?} instead of {wanted:?}"));
            }
        }
        let wanted = end["samples"].as_array().into_iter().flatten().map(Value::as_f64);
        let got = answer.samples.iter().flatten().copied();
        if let Some((place, (got, wanted))) =
            got.zip(wanted).enumerate().find(|(_, (got, wanted))| !is_near(*got, *wanted))
        {
            faults.push(format!("{id}: sample {place}: {got:?} instead of {wanted:?}"));
        }
    }
    faults
}

/// Where equal tubes tie any of them may be the pair that is mitred: the figures are then those of another pair, or of a place
/// where both lie within the touch of each other. What must hold is that every wall seats.
fn is_tied(expected: &Value, report: &Report) -> bool {
    let mitred: BTreeSet<&str> =
        report.ends.iter().filter(|end| ["mitre", "butt"].contains(&end.role)).map(|end| end.member.as_str()).collect();
    let tied: Vec<&Value> = expected["tied"].as_array().into_iter().flatten().collect();
    let is_pair = |pair: &Value| {
        let pair: BTreeSet<&str> = pair.as_array().into_iter().flatten().filter_map(Value::as_str).collect();
        pair == mitred
    };
    let closes = |end: &ReportedEnd| end.samples.iter().flatten().all(Option::is_some);
    tied.len() > 1 && tied.into_iter().any(is_pair) && codes(report).is_empty() && report.ends.iter().all(closes)
}

#[test]
fn ends_are_decided_as_in_the_cases() {
    let cases: Value = serde_json::from_str(include_str!("../cases/nodes.json")).unwrap();
    let cases = cases["cases"].as_array().unwrap();
    let mut failed = Vec::new();
    for case in cases {
        let report = report(&case_document(case));
        let mut faults = faults(&case["expected"], &report);
        if is_tied(&case["expected"], &report) {
            faults.clear();
        }
        failed.extend(faults.iter().map(|fault| format!("{} ({}): {fault}", case["id"], case["what"])));
    }
    assert!(cases.len() >= 32 && failed.is_empty(), "{}", failed.join("\n"));
}

/// A node of equal tubes at a point, drawn along the given directions.
fn node(directions: &[Vector], at: impl Fn(usize) -> Vector) -> Value {
    let member = |(number, direction): (usize, &Vector)| {
        let from = at(number);
        let to: Vector = std::array::from_fn(|axis| from[axis] + 400.0 * direction[axis]);
        json!({"id": format!("t{number}"), "section": "brace", "from": from, "to": to, "ends": {"to": "square"}})
    };
    let members: Vec<Value> = directions.iter().enumerate().map(member).collect();
    document(json!({"members": members}))
}

/// Roles with what each end is fitted to or mitred with, in the order of the document.
fn roles(report: &Report) -> Vec<(String, &'static str, Option<String>, Vec<String>)> {
    let mut roles: Vec<_> = report
        .ends
        .iter()
        .map(|end| {
            let mut onto = end.onto.clone();
            onto.sort();
            (end.member.clone(), end.role, end.partner.clone(), onto)
        })
        .collect();
    roles.sort();
    roles
}

fn figures(report: &Report) -> BTreeMap<String, [f64; 2]> {
    report.ends.iter().map(|end| (end.member.clone(), [end.long.unwrap_or(0.0), end.short.unwrap_or(0.0)])).collect()
}

fn between(a: Vector, b: Vector) -> f64 {
    (0..3).map(|axis| a[axis] * b[axis]).sum::<f64>().clamp(-1.0, 1.0).acos().to_degrees()
}

fn directions() -> impl Strategy<Value = Vec<Vector>> {
    let one = (-1.0..1.0f64, 0.0..std::f64::consts::TAU).prop_map(|(z, turn)| {
        let across = (1.0 - z * z).sqrt();
        [across * turn.cos(), across * turn.sin(), z]
    });
    // Apart by 31 degrees at least, so that every pair can be mitred, and not near the angles at which choices change.
    let apart = |all: &Vec<Vector>| {
        all.iter().enumerate().all(|(number, a)| {
            all[number + 1..].iter().all(|b| {
                let angle = between(*a, *b);
                (31.0..=175.0).contains(&angle) && (angle - 170.0).abs() > 0.5
            })
        })
    };
    proptest::collection::vec(one, 2..=7).prop_filter("too near", apart)
}

/// A turn about a slanted axis, and a shift.
fn moved(at: Vector) -> Vector {
    let (sin, cos) = 0.7f64.sin_cos();
    let [x, y, z] = [at[0] * cos - at[1] * sin, at[0] * sin + at[1] * cos, at[2]];
    [x, y * cos - z * sin, y * sin + z * cos]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, max_global_rejects: 100_000, ..ProptestConfig::default() })]

    /// The surfaces of equal round tubes whose axes meet in a point cross in the planes that halve their angles (derivable), so
    /// that every wall closes.
    #[test]
    fn a_node_of_equal_tubes_closes(directions in directions()) {
        let report = report(&node(&directions, |_| [0.0; 3]));
        prop_assert_eq!(codes(&report), BTreeSet::new());
        for end in &report.ends {
            let samples = end.samples.as_ref().unwrap();
            prop_assert!(samples.iter().all(Option::is_some), "{} misses: {:?}", end.member, samples);
        }
        prop_assert_eq!(report.ends.iter().filter(|end| end.role == "mitre").count(), 2);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, max_global_rejects: 100_000, ..ProptestConfig::default() })]

    #[test]
    fn a_node_is_decided_alike_wherever_it_lies(directions in directions()) {
        let here = report(&node(&directions, |_| [0.0; 3]));
        let turned: Vec<Vector> = directions.iter().map(|direction| moved(*direction)).collect();
        let there = report(&node(&turned, |_| [1234.5, 777.25, -301.125]));
        prop_assert_eq!(roles(&here), roles(&there));
        for (id, [long, short]) in figures(&here) {
            let other = figures(&there)[&id];
            prop_assert!((long - other[0]).abs() < 1e-3 && (short - other[1]).abs() < 1e-3, "{}", id);
        }
    }

    #[test]
    fn a_node_has_the_mirror_image_of_its_answer_on_the_other_side(directions in directions()) {
        let left = node(&directions, |_| [0.0, 500.0, 0.0]);
        let mirrored: Vec<Vector> = directions.iter().map(|[x, y, z]| [*x, -y, *z]).collect();
        let right = node(&mirrored, |_| [0.0, -500.0, 0.0]);
        let (left, right) = (report(&left), report(&right));
        prop_assert_eq!(roles(&left), roles(&right));
        for (id, [long, short]) in figures(&left) {
            let other = figures(&right)[&id];
            prop_assert!((long - other[0]).abs() < 1e-3 && (short - other[1]).abs() < 1e-3, "{}", id);
        }
    }

    #[test]
    fn two_hundredths_of_a_millimetre_flip_nothing(
        directions in directions(),
        by in proptest::collection::vec(proptest::array::uniform3(-0.02..0.02f64), 7),
    ) {
        let drawn = report(&node(&directions, |_| [0.0; 3]));
        let scattered = report(&node(&directions, |number| by[number]));
        let told = |report: &Report| {
            let roles = roles(report).into_iter().map(|(id, role, partner, _)| (id, role, partner));
            roles.collect::<Vec<_>>()
        };
        prop_assert_eq!(told(&drawn), told(&scattered));
    }
}

/// Angles and distances at just a limit of the rules: what rounding makes of them after a motion decides nothing.
#[test]
fn what_lies_at_a_limit_is_decided_alike_wherever_it_lies() {
    let at = |degrees: f64| [degrees.to_radians().cos(), degrees.to_radians().sin(), 0.0];
    for degrees in [15.0, 30.0, 170.0, 179.5] {
        let directions = [at(0.0), at(degrees), [0.0, 0.0, 1.0]];
        let told = |turns: i32, shift: Vector| {
            let turned = directions.map(|direction| (0..turns).fold(direction, |direction, _| moved(direction)));
            let report = report(&node(&turned, |_| shift));
            let codes: Vec<String> = report.findings.iter().map(|finding| finding.code.clone()).collect();
            (roles(&report), codes)
        };
        let here = told(0, [0.0; 3]);
        for turns in 1..12 {
            let by = f64::from(turns);
            assert_eq!(here, told(turns, [71.3 * by, -33.7 * by, 11.1 * by]), "{degrees} degrees, {turns} turns");
        }
    }
    for short in [3.0, 10.0, 50.0] {
        let told = |turns: i32| {
            let place = |at: Vector| (0..turns).fold(at, |at, _| moved(at));
            let frame = document(json!({"members": [
                {"id": "rail", "section": "hoop", "from": place([-300.0, 0.0, 0.0]), "to": place([300.0, 0.0, 0.0]), "ends": {"from": "square", "to": "square"}},
                {"id": "post", "section": "brace", "from": place([0.0, 0.0, 22.5 + short]), "to": place([0.0, 0.0, 400.0]), "ends": {"to": "square"}},
                {"id": "beside", "section": "brace", "from": place([900.0, 0.0, 0.0]), "to": place([900.0, 300.0, 0.0]), "ends": {"to": "square"}},
                {"id": "near", "section": "brace", "from": place([900.0, 0.0, short]), "to": place([900.0, 0.0, 400.0]), "ends": {"to": "square"}},
            ]}));
            let report = report(&frame);
            let codes: Vec<String> = report.findings.iter().map(|finding| finding.code.clone()).collect();
            (roles(&report), codes)
        };
        let here = told(0);
        (1..12).for_each(|turns| assert_eq!(here, told(turns), "{short} mm, {turns} turns"));
    }
}

/// What is written is the supplier's own text with the ends added, and is not decided again.
#[test]
fn the_answer_is_added_to_the_text_and_stays() {
    let text = r#"{
  "format": "matchmark-design/1", "name": "Corner",
  "materials": {"steel": {"name": "S235", "density": 7850}},
  "sections": {"tube": {"round": {"od": 25.0, "wall": 1.5}, "material": "steel"}},
  "points": {"o": [0, 0, 0]},
  "members": [
    {"id": "a", "section": "tube", "from": "o", "to": [300, 0, 0]},
    {
      "id": "b",
      "section": "tube",
      "from": "o",
      "to": [0, 300, 0],
      "ends": {"to": "square"}
    },
    {"id": "c", "section": "tube", "from": [0, 0, 300], "to": "o",   "note": "Upright."}
  ]
}
"#;
    let resolution = resolve(text);
    let written = resolution.document.unwrap();
    let wanted = text
        .replace(
            r#""to": [300, 0, 0]}"#,
            r#""to": [300, 0, 0], "ends": {"from": {"mitre": {"with": "b"}}, "to": "square"}}"#,
        )
        .replace(r#"{"to": "square"}"#, r#"{"to": "square", "from": {"mitre": {"with": "a"}}}"#)
        .replace(
            r#""note": "Upright."}"#,
            r#""note": "Upright.", "ends": {"from": "square", "to": {"cope": ["a", "b"]}}}"#,
        );
    assert_eq!(written, wanted);
    let again = resolve(&written);
    assert_eq!((again.document.as_ref(), again.report.ends.len()), (Some(&written), 0));
    assert!(matchmark_core::evaluate(&written).findings.is_empty());
}

/// A tube that is listed first and fitted to two larger ones moves behind them, and nothing else moves.
#[test]
fn a_member_moves_behind_what_it_is_fitted_to() {
    let tube = |id: &str, section: &str, to: Vector| json!({"id": id, "section": section, "from": [0, 0, 0], "to": to, "ends": {"to": "square"}});
    let frame = document(json!({"members": [
        {"id": "other", "section": "brace", "from": [900, 0, 0], "to": [900, 300, 0]},
        tube("small", "brace", [300.0, 0.0, 0.0]),
        tube("one", "hoop", [0.0, 300.0, 0.0]),
        tube("two", "hoop", [0.0, 0.0, 300.0]),
    ]}));
    let resolution = resolve(&frame.to_string());
    let written: Value = serde_json::from_str(&resolution.document.unwrap()).unwrap();
    let ids: Vec<&str> =
        written["members"].as_array().unwrap().iter().map(|member| member["id"].as_str().unwrap()).collect();
    assert_eq!(ids, ["other", "one", "two", "small"]);
    assert_eq!(written["members"][3]["ends"]["from"], json!({"cope": ["one", "two"]}));
    assert!(resolution.findings.iter().any(|finding| finding.code == "order-of-placing"));
}

/// An end that stops short of a standing tube is fitted to it within 10 mm, and told by how much it misses within 50.
#[test]
fn an_end_needs_no_point_on_the_axis() {
    let frame = |short: f64| {
        document(json!({"members": [
            {"id": "rail", "section": "hoop", "from": [-300, 0, 0], "to": [300, 0, 0], "ends": {"from": "square", "to": "square"}},
            {"id": "post", "section": "brace", "from": [0, 3, 22.5 + short], "to": [0, 3, 400], "ends": {"to": "square"}},
        ]}))
    };
    let onto = |short: f64| {
        let resolution = resolve(&frame(short).to_string());
        let end = resolution.report.ends.iter().find(|end| end.member == "post").unwrap().clone();
        (end.role, end.onto, resolution.findings)
    };
    for short in [-30.0, -5.0, 0.0, 9.0] {
        let (role, onto, findings) = onto(short);
        assert_eq!((role, onto, findings.len()), ("cope", vec!["rail".to_owned()], 0), "{short}");
    }
    let (role, _, findings) = onto(20.0);
    assert_eq!((role, findings[0].code.as_str()), ("square", "end-short"));
    assert!(findings[0].message.contains("stops 20.2 mm short of `rail`"), "{}", findings[0].message);
    assert_eq!(onto(60.0).2, []);
}

/// A chord that ends 10 mm past a node runs on until the brace at 60 degrees seats on it. Closed form of the issue's note:
/// (r - R cos theta) / sin theta from where the axes cross.
#[test]
fn a_tube_that_passes_runs_on_where_it_ends_too_soon() {
    let frame = document(json!({"members": [
        {"id": "chord", "section": "hoop", "from": [-10, 0, 0], "to": [400, 0, 0], "ends": {"to": "square"}},
        {"id": "brace", "section": "brace", "from": [0, 0, 0], "to": [-200, 0, 346.410_161_5], "ends": {"to": "square"}},
    ]}));
    let resolution = resolve(&frame.to_string());
    let written: Value = serde_json::from_str(&resolution.document.unwrap()).unwrap();
    let run_on = written["members"][0]["ends"]["from"]["run_on"].as_f64().unwrap();
    let theta = 120f64.to_radians();
    assert!((run_on - ((15.0 - 22.5 * theta.cos()) / theta.sin() - 10.0)).abs() < 1e-3, "{run_on}");
    assert_eq!(written["members"][1]["ends"]["from"], json!({"cope": ["chord"]}));
    let found = matchmark_core::evaluate(&written.to_string()).findings;
    assert!(found.iter().all(|finding| finding.severity == Severity::Information), "{found:?}");
}

/// Both hands of a mirrored tube close on the middle plane, and a frame drawn as mirror images has ends that are mirror images.
#[test]
fn hands_are_decided_together() {
    let frame = document(json!({
        "points": {"top": [0, 0, 500], "a.L": [300, 250, 0], "b.L": [-300, 250, 0]},
        "members": [
            {"id": "a.L", "section": "brace", "from": "top", "to": "a.L", "mirror": true, "ends": {"to": "square"}},
            {"id": "b.L", "section": "brace", "from": "top", "to": "b.L", "mirror": true, "ends": {"to": "square"}},
        ],
    }));
    let written: Value = serde_json::from_str(&resolve(&frame.to_string()).document.unwrap()).unwrap();
    assert_eq!(written["members"][0]["ends"]["from"], json!({"mitre": {"with": "a.R"}}));
    assert_eq!(written["members"][1]["ends"]["from"], json!({"cope": ["a.L"], "mitre": {"normal": [0, 1, 0]}}));
    let found = matchmark_core::evaluate(&written.to_string()).findings;
    assert!(found.iter().all(|finding| finding.severity == Severity::Information), "{found:?}");
}
