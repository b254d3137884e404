//! Spoiled documents and joints: whatever is written, the engine answers with findings and never stops.
//!
//! Each target runs a few hundred cases with the other tests. `MATCHMARK_FUZZ_SECONDS=600 cargo test --workspace --test fuzz` runs each
//! for so long, and `MATCHMARK_FUZZ_SEED` starts elsewhere. A case that stops the engine is printed with its seed.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test stops at what it did not expect")]

mod mutate;

use matchmark_core::document::{OneKit, Severity};
use matchmark_core::pack::{Issue, Print, Status};
use mutate::{Dice, spoil};
use serde_json::Value;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};

const DEMO: &str = include_str!("../../server/demo/rev_b.json");
const JOINTS: &str = include_str!("../cases/ends.json");

/// Runs `target` over spoiled copies of `seeds`.
fn run(seeds: &[Value], cases: u64, target: impl Fn(&str)) {
    let number = |name: &str| std::env::var(name).ok().and_then(|value| value.parse::<u64>().ok());
    let first = number("MATCHMARK_FUZZ_SEED").unwrap_or(1);
    let end = number("MATCHMARK_FUZZ_SECONDS").map(|seconds| Instant::now() + Duration::from_secs(seconds));
    let mut seed = first;
    loop {
        let mut dice = Dice::new(seed);
        let mut value = seeds[dice.below(seeds.len())].clone();
        for _ in 0..=dice.below(4) {
            spoil(&mut value, &mut dice);
        }
        let text = value.to_string();
        if catch_unwind(AssertUnwindSafe(|| target(&text))).is_err() {
            panic!("seed {seed} stops the engine: {text}");
        }
        seed += 1;
        let enough = match end {
            Some(end) => Instant::now() >= end,
            None => seed - first >= cases,
        };
        if enough {
            println!("{} cases from seed {first}", seed - first);
            return;
        }
    }
}

/// The demo cut down to a few members, so that most of a spoiled document still goes all the way.
fn small() -> Value {
    let mut small: Value = serde_json::from_str(DEMO).unwrap();
    let keep = [
        "main_hoop",
        "sill.L",
        "harness_bar",
        "seat_rear",
        "seat_front",
        "seat_rail_in.L",
        "back_stay.L",
        "bay_rail.L",
        "spring_beam",
    ];
    let is_kept = |id: &Value| keep.contains(&id.as_str().unwrap_or_default());
    small["members"].as_array_mut().unwrap().retain(|member| is_kept(&member["id"]));
    small["holes"].as_object_mut().unwrap().retain(|_, hole| is_kept(&hole["member"]));
    small["plates"].as_object_mut().unwrap().retain(|name, _| !name.starts_with("column"));
    small["steps"] = serde_json::json!([{"what": "Measure.", "after": "sill.R", "checks": ["sill_diagonal"]}]);
    small
}

#[test]
fn documents() {
    let whole: Value = serde_json::from_str(DEMO).unwrap();
    let small = small();
    let good = matchmark_core::evaluate(&small.to_string());
    assert!(good.sheets.is_some(), "{:?}", good.findings);
    let seeds = [small.clone(), small.clone(), small, whole];
    run(&seeds, 300, |text| {
        let mut evaluation = matchmark_core::evaluate(text);
        let numbers = evaluation.number(None);
        let has_errors = evaluation.findings.iter().any(|finding| finding.severity == Severity::Error);
        assert_eq!(evaluation.sheets.is_none(), has_errors, "sheets exactly where there is no error");
        let (Some(sheets), Some(numbers)) = (&evaluation.sheets, numbers) else { return };
        let written = serde_json::to_value(sheets).unwrap();
        assert!(finite(&written), "a figure that is no number");
        let _ = evaluation.changes_from(&numbers, &evaluation, &numbers).unwrap();
        let mut kit = OneKit::default();
        kit.measured.insert("hoop_spread".into(), 1124.0);
        let _ = matchmark_core::evaluate_for(text, &kit);
        let _ = matchmark_core::pack::render(sheets, &issue());
    });
}

#[test]
fn joints() {
    let cases: Value = serde_json::from_str(JOINTS).unwrap();
    let seeds: Vec<Value> = cases["cases"].as_array().unwrap().clone();
    run(&seeds, 600, |text| {
        if let Ok(results) = matchmark_core::part::joint::solve_all(text) {
            assert!(finite(&serde_json::to_value(&results).unwrap()), "a figure that is no number");
        }
    });
}

/// JSON has no way to write a number that is not finite: it would stand as null where a figure belongs.
fn finite(value: &Value) -> bool {
    match value {
        Value::Array(items) => items.iter().all(finite),
        Value::Object(entries) => entries.iter().all(|(name, value)| {
            let may_be_null =
                !matches!(name.as_str(), "overall" | "short" | "centreline" | "x" | "y" | "s" | "volume" | "mass_kg");
            (may_be_null || !value.is_null()) && finite(value)
        }),
        _ => true,
    }
}

fn issue() -> Issue {
    Issue {
        supplier: "Bench Works".into(),
        contact: "ask@bench.example".into(),
        design: "Bench frame".into(),
        revision: "A".into(),
        date: "2026-11-25".into(),
        kit: "BW-0001".into(),
        kit_facts: Vec::new(),
        measured_on: std::collections::BTreeMap::new(),
        pack_number: "1".into(),
        status: Status::Issued,
        print: Print::default(),
        seal: None,
        since: None,
        notices: Vec::new(),
        recalls: Vec::new(),
        design_sha256: "0".repeat(64),
    }
}
