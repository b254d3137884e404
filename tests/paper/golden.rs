//! A few pages against pictures of them that were looked at and kept. `MATCHMARK_RENEW_PICTURES=1` keeps new ones: look at them
//! before they are committed.

use super::reader::issue;
use matchmark_core::pack::{self, Paper};
use serde_json::Value;
use std::io::Write;
use std::process::Command;

const DEMO: &str = include_str!("../../server/demo/rev_b.json");

/// Entries of the outline, and the names of the pictures of their pages.
const PAGES: [(&str, &str); 9] = [
    ("Frame, three views", "views"),
    ("Frame, pictorial", "pictorial"),
    ("Fit-up order", "fit_up"),
    ("Bend sheet main_hoop", "bend_sheet"),
    ("Jig sheet main_hoop", "jig_sheet"),
    ("Left and right parts", "pairs"),
    ("Check dimensions", "checks"),
    ("Wrap tail_low, end 1", "wraps"),
    ("Wrap pedal_diag.L, end 1", "side_by_side"),
];

/// Share of a page that may look otherwise: a line of lettering is more than this.
const MOST: f64 = 0.001;

#[test]
fn pages_look_as_they_did_when_they_were_last_looked_at() {
    let mut evaluation = matchmark_core::evaluate(DEMO);
    evaluation.number(None);
    let pack = pack::render(&evaluation.sheets.expect("the demo has no errors"), &issue(Paper::A4)).expect("a pack");
    let mut file = tempfile::NamedTempFile::new().expect("a temporary file");
    file.write_all(&pack.pdf).expect("written");
    let here = concat!(env!("CARGO_MANIFEST_DIR"), "/paper");
    let python = std::env::var("MATCHMARK_PYTHON").unwrap_or_else(|_| "python3".into());
    let output = Command::new(python)
        .arg(format!("{here}/compare_pages.py"))
        .arg(file.path())
        .arg(format!("{here}/pictures"))
        .args(PAGES.map(|(title, name)| format!("{title}={name}")))
        .output()
        .expect("Python runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let off: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    for (_, name) in PAGES {
        let share = off[name].as_f64().expect("a share");
        assert!(share <= MOST, "{share} of the page {name} looks otherwise: {off}");
    }
}
