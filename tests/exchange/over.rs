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
fn what_is_no_design_is_refused() {
    let files = [SourceFile { name: "t.csv".into(), bytes: format!("{HEADER}{SILLS}").into_bytes() }];
    assert!(import_text(&files, None, Some("{"), Stop::NEVER).unwrap().design.is_none());
}
