//! The groups of options against every combination tried.

use super::*;
use crate::document::Design;
use proptest::prelude::*;
use serde_json::{Value, json};

/// A rail with braces that come and go, each under a choice of one option or two, some of them fitted to each other, some of them
/// too short or in each other's way.
fn frame(braces: &[(i32, i32, usize, usize, u8)]) -> String {
    let members = braces.iter().enumerate().map(|(index, &(at, to, option, other, kind))| {
        let x = f64::from(at) * 25.0;
        let (far, up) = (x + f64::from(to) * 20.0, if kind == 3 { 15.0 } else { 300.0 });
        let mut member = json!({
            "id": format!("brace{index}"), "section": "brace", "from": [x, 0, 0], "to": [far, 0, up],
            "when": {format!("o{option}"): "yes"}
        });
        if kind == 1 {
            member["when"][format!("o{other}")] = json!("no");
        }
        if kind == 2 && index > 0 {
            member["ends"] = json!({"to": {"cope": [format!("brace{}", index - 1)]}});
        }
        member
    });
    let rail = json!({"id": "rail", "section": "rail", "from": [-500, 0, 0], "to": [500, 0, 0], "ends": {"from": "square", "to": "square"}});
    let options: Value = (0..7)
        .map(|option| (format!("o{option}"), json!({"what": "An option", "choices": ["no", "yes"]})))
        .collect::<serde_json::Map<_, _>>()
        .into();
    json!({
        "format": "matchmark-design/1", "name": "Many choices",
        "materials": {"steel": {"name": "steel", "density": 7850}},
        "sections": {
            "rail": {"round": {"od": 45, "wall": 2.5}, "material": "steel"},
            "brace": {"round": {"od": 30, "wall": 2}, "material": "steel"}
        },
        "points": {}, "members": std::iter::once(rail).chain(members).collect::<Vec<_>>(), "options": options
    })
    .to_string()
}

/// Every combination, whatever their number.
fn check_one_by_one(text: &str, design: &Design) -> Vec<Finding> {
    let options = Options::of(design);
    let meetings = Meetings::of(design, &options);
    let mut found = Found::default();
    for combination in cover::every_combination(&options, options.all(), 0) {
        let choices = options.choices(&combination, options.all());
        let findings = numbered(text, choices, Stop::NEVER).expect("nothing stops it").findings;
        found.add_under(findings, &options, &meetings, &combination);
    }
    found.findings
}

fn keys(findings: &[Finding]) -> BTreeSet<(Severity, String, Vec<String>)> {
    let not_ours = |finding: &&Finding| finding.pointer != "/options";
    let key = |finding: &Finding| (finding.severity, finding.code.clone(), finding.members.clone());
    findings.iter().filter(not_ours).map(key).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(8))]

    #[test]
    fn groups_find_what_every_combination_finds(
        braces in prop::collection::vec((-18..18, -8..8, 0..7_usize, 0..7_usize, 0..4_u8), 3..9)
    ) {
        let text = frame(&braces);
        let by_groups = check_all_choices(&text);
        if by_groups.iter().any(|finding| finding.code == "too-many-combinations") {
            return Ok(());
        }
        let design = document::read(&text).design.unwrap();
        prop_assert_eq!(keys(&by_groups), keys(&check_one_by_one(&text, &design)));
    }
}

/// Ten options, each with a brace of its own on the rail: 1,024 combinations.
fn ten(apart: f64) -> Value {
    let names: Vec<String> = (0..10).map(|number| format!("o{number}")).collect();
    let members = (0_u8..10).map(|number| {
        let x = f64::from(number) * apart - 450.0;
        json!({"id": format!("brace{number}"), "section": "brace", "from": [x, 0, 0], "to": [x, 0, 300],
            "ends": {"to": "square"}, "when": {names[usize::from(number)].clone(): "yes"}})
    });
    let mut frame: Value = serde_json::from_str(&frame(&[])).unwrap();
    frame["members"].as_array_mut().unwrap().extend(members);
    frame["options"] = names
        .iter()
        .map(|name| (name.clone(), json!({"what": "An option", "choices": ["no", "yes"]})))
        .collect::<serde_json::Map<_, _>>()
        .into();
    frame
}

#[test]
fn of_ten_options_those_that_meet_are_checked_together() {
    let found = check_all_choices(&ten(100.0).to_string());
    let note = found.iter().find(|finding| finding.code == "choices-by-groups").unwrap();
    assert!(note.message.starts_with("The options have 1024 combinations. 2 of them were checked"), "{}", note.message);
    // Two braces that meet only when both options are taken: nothing but that combination shows it.
    let mut frame = ten(100.0);
    frame["members"][4]["to"] = json!([-50, 0, 300]);
    let found = check_all_choices(&frame.to_string());
    let clash = found.iter().find(|finding| finding.code == "clash").unwrap();
    assert_eq!(clash.members, ["brace3", "brace4"]);
    assert!(clash.message.starts_with("With o3 yes, o4 yes: "), "{}", clash.message);
}

#[test]
fn options_that_all_meet_at_one_place_are_refused_by_name() {
    let found = check_all_choices(&ten(5.0).to_string());
    let refusal = &found[0];
    assert_eq!((refusal.code.as_str(), refusal.severity), ("too-many-combinations", Severity::Error));
    assert!(refusal.message.contains("`o0`, `o1`") && refusal.message.contains("`brace"), "{}", refusal.message);
}
