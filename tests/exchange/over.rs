//! An import over an existing design.

use matchmark_core::Stop;
use matchmark_import::{Import, SourceFile, import_text};
use serde_json::{Value, json};

const HEADER: &str = "name,section,x1 [mm],y1 [mm],z1 [mm],x2 [mm],y2 [mm],z2 [mm],od [mm],wall [mm]\n";
const SILLS: &str = "sill.L,RAIL,0,300,0,900,280,0,33.7,2.6\nsill.R,RAIL,0,-300,0,900,-280,0,33.7,2.6\n";

fn import(rows: &str, over: Option<&Value>) -> Import {
    let files = [SourceFile { name: "t.csv".into(), bytes: format!("{HEADER}{rows}").into_bytes() }];
    import_text(&files, None, over.map(ToString::to_string).as_deref(), Stop::NEVER).unwrap()
}

/// A design with what no file has: a note, a hole, a step, a cut, and names of its own.
fn existing() -> Value {
    let rows = format!("{SILLS}cross,RAIL,0,-300,0,0,300,0,33.7,2.6\npost,RAIL,450,10,0,450,10,500,33.7,2.6\n");
    let mut design = import(&rows, None).design.unwrap();
    design["members"][0]["note"] = json!("Weld last.");
    design["members"][0]["ends"] = json!({"from": "square"});
    design["holes"] = json!({"drain": {"member": "sill.L", "station": 100, "clock": 0, "diameter": 6}});
    design["steps"] = json!([{"after": "cross", "what": "Measure the diagonals."}]);
    design["name"] = json!("My cart");
    design
}

#[test]
fn what_only_the_design_has_is_kept_and_changes_are_listed() {
    let before = existing();
    // The sills are 25 mm wider at the front, the cross is drawn the other way, the post went, a stay is new.
    let rows = "sill.L,RAIL,900,305,0,0,300,0,33.7,2.6\nsill.R,RAIL,0,-300,0,900,-305,0,33.7,2.6\n\
        bar,RAIL,0,300,0,0,-300,0,33.7,2.6\nstay,RAIL,450,20,0,10,20,400,33.7,2.6\n";
    let read = import(rows, Some(&before));
    let (after, changed) = (read.design.unwrap(), read.report.comparison.unwrap());
    assert_eq!(changed.kept, ["cross"]);
    assert_eq!(
        changed.moved.iter().map(|moved| (moved.id.as_str(), moved.by_mm)).collect::<Vec<_>>(),
        [("sill.L", Some(25.0))]
    );
    assert_eq!((&changed.added[..], &changed.removed[..]), (&["stay".to_owned()][..], &["post".to_owned()][..]));
    for field in ["name", "holes", "steps"] {
        assert_eq!(after[field], before[field], "{field}");
    }
    let sill = &after["members"][0];
    assert_eq!(
        (&sill["id"], &sill["note"], &sill["ends"]),
        (&json!("sill.L"), &json!("Weld last."), &json!({"from": "square"}))
    );
    // The end with the cut is still the first: the place at x = 0 (hand-computed).
    assert_eq!(after["points"][sill["from"].as_str().unwrap()], json!([0.0, 300.0, 0.0]));
    assert_eq!(after["points"][sill["to"].as_str().unwrap()], json!([900.0, 305.0, 0.0]));
}

#[test]
fn nothing_changes_when_the_same_files_come_again() {
    let before = existing();
    let rows = format!("{SILLS}cross,RAIL,0,-300,0,0,300,0,33.7,2.6\npost,RAIL,450,10,0,450,10,500,33.7,2.6\n");
    let again = import(&rows, Some(&before));
    assert_eq!(again.design.unwrap(), before);
    assert_eq!(again.report.comparison.unwrap().kept.len(), 3);
}

#[test]
fn a_member_that_a_step_waits_for_stays_and_is_listed() {
    let before = existing();
    let read = import(&format!("{SILLS}post,RAIL,450,10,0,450,10,500,33.7,2.6\n"), Some(&before));
    let changed = read.report.comparison.unwrap();
    assert_eq!((&changed.still_referred_to[..], changed.removed.len()), (&["cross".to_owned()][..], 0));
    assert!(read.report.findings.iter().any(|finding| finding.code.as_str() == "still-referred-to"));
    assert!(read.design.unwrap()["members"].as_array().unwrap().iter().any(|member| member["id"] == "cross"));
}

#[test]
fn ends_let_go_of_a_tube_that_went_and_do_not_keep_it() {
    let mut before = existing();
    before["members"][0]["ends"]["to"] = json!({"cope": ["post", "cross"]});
    let read = import(&format!("{SILLS}cross,RAIL,0,-300,0,0,300,0,33.7,2.6\n"), Some(&before));
    let (after, changed) = (read.design.unwrap(), read.report.comparison.unwrap());
    assert_eq!((&changed.removed[..], changed.still_referred_to.len()), (&["post".to_owned()][..], 0));
    assert_eq!(after["members"][0]["ends"], json!({"from": "square", "to": {"cope": ["cross"]}}));
    let said = read.report.findings.iter().find(|finding| finding.message.starts_with("End 2 of `sill.L`"));
    assert_eq!(said.unwrap().code.as_str(), "removed-with");
    // Held by a hole as well, it stays with all that was fitted to it.
    before["holes"]["lug"] = json!({"member": "post", "station": 50, "clock": 0, "diameter": 6});
    let read = import(&format!("{SILLS}cross,RAIL,0,-300,0,0,300,0,33.7,2.6\n"), Some(&before));
    assert_eq!(read.report.comparison.unwrap().still_referred_to, ["post"]);
    assert_eq!(read.design.unwrap()["members"][0]["ends"], before["members"][0]["ends"]);
}

#[test]
fn a_speck_is_no_tube() {
    let read = import(&format!("{SILLS}speck,RAIL,450,0,0,450.5,0,0,33.7,2.6\n"), None);
    assert_eq!(read.report.counts.tubes, 2);
    let said = read.report.findings.iter().find(|finding| finding.code.as_str() == "no-length").unwrap();
    assert!(said.message.contains("0.50 mm long"), "{}", said.message);
}

#[test]
fn a_pair_with_one_hand_moved_becomes_two_members_that_keep_what_was_said() {
    let mut before = existing();
    before["members"][0]["roll"] = json!(30);
    before["members"][0]["ends"]["to"] = json!({"cope": ["cross"]});
    let rest = "cross,RAIL,0,-300,0,0,300,0,33.7,2.6\npost,RAIL,450,10,0,450,10,500,33.7,2.6\n";
    let rows = format!("sill.L,RAIL,0,300,0,900,310,0,33.7,2.6\nsill.R,RAIL,0,-300,0,900,-280,0,33.7,2.6\n{rest}");
    let read = import(&rows, Some(&before));
    let (after, changed) = (read.design.unwrap(), read.report.comparison.unwrap());
    assert_eq!((&changed.added[..], &changed.removed[..]), (&[][..], &[][..]));
    assert_eq!(changed.kept, ["sill.R", "cross", "post"]);
    assert_eq!((changed.moved.len(), &changed.moved[0].id[..], changed.moved[0].by_mm), (1, "sill.L", Some(30.0)));
    assert!(read.report.findings.iter().any(|finding| finding.code.as_str() == "hands-apart"));
    let [left, right] = [&after["members"][0], &after["members"][1]];
    assert_eq!((&right["id"], &right["note"], &right["ends"]), (&json!("sill.R"), &json!("Weld last."), &left["ends"]));
    // Seen in a mirror a turn to the right is one to the left.
    assert_eq!((&left["roll"], &right["roll"]), (&json!(30), &json!(-30.0)));
    assert!(left["mirror"].is_null() && right["mirror"].is_null());
    let at = |member: &Value, end: &str| after["points"][member[end].as_str().unwrap()].clone();
    assert_eq!((at(left, "to"), at(right, "to")), (json!([900.0, 310.0, 0.0]), json!([900.0, -280.0, 0.0])));
    // And back: what was written as two stays two.
    let rows = format!("{SILLS}{rest}");
    let again = import(&rows, Some(&after));
    let (back, changed) = (again.design.unwrap(), again.report.comparison.unwrap());
    assert_eq!((changed.moved.len(), changed.added.len(), changed.removed.len()), (1, 0, 0));
    assert_eq!(back["members"][0]["note"], "Weld last.");
}

#[test]
fn what_goes_with_a_member_and_texts_that_name_it_are_said() {
    let mut before = existing();
    before["members"][2]["note"] = json!("Keep plumb.");
    before["notes"] = json!(["Fit the post. before paint: post."]);
    let read = import(&format!("{SILLS}cross,RAIL,0,-300,0,0,300,0,33.7,2.6\n"), Some(&before));
    let said: Vec<(&str, &str)> =
        read.report.findings.iter().map(|finding| (finding.code.as_str(), finding.message.as_str())).collect();
    assert!(said.iter().any(|(code, message)| *code == "removed-with" && message.contains("Keep plumb.")), "{said:?}");
    assert_eq!(said.iter().filter(|(code, _)| *code == "still-named").count(), 1, "{said:?}");
    assert_eq!(read.design.unwrap()["notes"], before["notes"]);
}

#[test]
fn points_that_move_with_their_members_are_said_where_something_else_refers_to_them() {
    let mut before = existing();
    let to = before["members"][0]["to"].clone();
    before["checks"] = json!({"length": {"between": [before["members"][0]["from"].clone(), to.clone()]}});
    let rows = "sill.L,RAIL,0,300,0,960,280,0,33.7,2.6\nsill.R,RAIL,0,-300,0,960,-280,0,33.7,2.6\n\
        cross,RAIL,0,-300,0,0,300,0,33.7,2.6\npost,RAIL,450,10,0,450,10,500,33.7,2.6\n";
    let read = import(rows, Some(&before));
    let after = read.design.unwrap();
    assert_eq!((&after["checks"], &after["members"][0]["to"]), (&before["checks"], &to));
    assert_eq!(after["points"][to.as_str().unwrap()], json!([960.0, 280.0, 0.0]));
    let said = read.report.findings.iter().find(|finding| finding.code.as_str() == "point-moved").unwrap();
    assert!(said.message.contains("60.0 mm"), "{}", said.message);
}

#[test]
fn numbers_that_stand_for_names_tell_nothing_of_which_tube_it_is() {
    // Unnamed tubes: the first of two goes, so the second is the first of the file now. It must not become the first of the design.
    let row = |x: u32| format!(",RAIL,{x},10,0,{x},10,500,33.7,2.6\n");
    let before = import(&(row(100) + &row(400)), None).design.unwrap();
    assert_eq!(before["members"][1]["id"], "rail-2");
    let read = import(&row(420), Some(&before));
    let changed = read.report.comparison.unwrap();
    assert_eq!((&changed.moved[0].id[..], &changed.removed[..]), ("rail-2", &["rail-1".to_owned()][..]));
}

#[test]
fn hands_that_are_no_pair_keep_their_names() {
    let read = import("stay.L,RAIL,0,300,0,900,280,0,33.7,2.6\nstay.R,RAIL,0,-300,0,900,-200,0,33.7,2.6\n", None);
    let design = read.design.unwrap();
    assert_eq!((&design["members"][0]["id"], &design["members"][1]["id"]), (&json!("stay.L"), &json!("stay.R")));
}

#[test]
fn what_is_no_design_is_refused() {
    let files = [SourceFile { name: "t.csv".into(), bytes: format!("{HEADER}{SILLS}").into_bytes() }];
    assert!(import_text(&files, None, Some("{"), Stop::NEVER).unwrap().design.is_none());
}
