//! Tube ends against ground truth computed two ways by others: ray algebra in Python and booleans of a solid modeller.
//!
//! `cases/ends.json` states its conventions in its own text. Its lines agree between both ways to about 1e-7 mm.

use serde_json::Value;

const CASES: &str = include_str!("../cases/ends.json");

fn numbers(value: &Value) -> Vec<Option<f64>> {
    value.as_array().expect("a list").iter().map(Value::as_f64).collect()
}

fn worst(found: &Value, wanted: &Value, what: &str) -> f64 {
    let (found, wanted) = (numbers(found), numbers(wanted));
    assert_eq!(found.len(), 72, "{what}");
    let mut worst = 0.0f64;
    for (place, (found, wanted)) in found.iter().zip(&wanted).enumerate() {
        match (found, wanted) {
            (Some(found), Some(wanted)) => worst = worst.max((found - wanted).abs()),
            (None, None) => {}
            _ => panic!("{what}: at sample {place} one misses and the other does not: {found:?}, {wanted:?}"),
        }
    }
    worst
}

#[test]
fn every_case_of_the_ground_truth() {
    let answer = matchmark_core::joint::solve(CASES).expect("every case can be computed");
    let answer: Value = serde_json::from_str(&answer).expect("the answer is JSON");
    let cases: Value = serde_json::from_str(CASES).expect("the cases are JSON");
    let (cases, results) = (cases["cases"].as_array().expect("cases"), answer["results"].as_array().expect("results"));
    assert_eq!(cases.len(), results.len());
    assert!(cases.len() >= 50);
    for (case, result) in cases.iter().zip(results) {
        let id = case["id"].as_str().expect("an id");
        assert_eq!(result["id"], case["id"]);
        for line in ["outer", "inner", "relief"] {
            let off = worst(&result[line], &case[line], &format!("{id} {line}"));
            assert!(off <= 0.01, "{id}: the {line} line is {off} mm off");
        }
        let off = worst(&result["dihedral_deg"], &case["dihedral_deg"], &format!("{id} dihedral"));
        assert!(off <= 0.05, "{id}: the dihedral angle is {off} degrees off");
        let (found, wanted) = (result["volume"].as_f64().expect("volume"), case["volume"].as_f64().expect("volume"));
        assert!((found / wanted - 1.0).abs() <= 1e-4, "{id}: volume {found}, wanted {wanted}");
    }
}

#[test]
fn one_case_alone_is_answered_like_many() {
    let cases: Value = serde_json::from_str(CASES).expect("the cases are JSON");
    let first = &cases["cases"][0];
    let alone = matchmark_core::joint::solve_all(&first.to_string()).expect("one case");
    let many = matchmark_core::joint::solve_all(CASES).expect("many cases");
    assert_eq!(alone.results[0], many.results[0]);
}

#[test]
fn a_wrong_case_names_its_place() {
    let cases: Value = serde_json::from_str(CASES).expect("the cases are JSON");
    let broken = |change: &dyn Fn(&mut Value)| {
        let mut cases = serde_json::json!({"cases": [cases["cases"][0], cases["cases"][1]]});
        change(&mut cases["cases"][1]);
        matchmark_core::joint::solve(&cases.to_string()).expect_err("the case is wrong")
    };
    let thick = broken(&|case| case["member"]["section"]["wall"] = 40.into());
    assert_eq!((thick.code(), thick.pointer()), ("bad-joint", "/cases/1/member/section/wall"));
    let inside = broken(&|case| case["member"]["s_start"] = 0.into());
    assert_eq!((inside.code(), inside.pointer()), ("starts-inside", "/cases/1/member/s_start"));
    let parallel = broken(&|case| case["member"]["ref"] = case["member"]["dir"].clone());
    assert_eq!(parallel.pointer(), "/cases/1/member/ref");
    let missing = broken(&|case| {
        case["member"].as_object_mut().expect("an object").remove("datum");
    });
    assert_eq!(missing.pointer(), "/cases/1/member");
    assert!(missing.to_string().contains("datum"));
    assert_eq!(matchmark_core::joint::solve("{").expect_err("not JSON").code(), "not-json");
}
