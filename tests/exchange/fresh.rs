//! Fresh cases of the same kinds as the public ones, drawn by chance by independent tools (`fresh.py`).

use crate::cases::{python, wrong};
use std::path::PathBuf;

#[test]
fn frames_drawn_by_chance_are_read_right() {
    let seed = std::env::var("MATCHMARK_FRESH_SEED").unwrap_or_else(|_| "20261129".into());
    let folder = tempfile::tempdir().unwrap();
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/exchange/fresh.py");
    let done = python().arg(script).arg(folder.path()).arg(&seed).output().unwrap();
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let mut cases: Vec<PathBuf> = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_dir())
        .collect();
    cases.sort();
    assert_eq!(cases.len(), 20);
    let wrong: Vec<String> = cases.iter().map(|case| wrong(case)).filter(|wrong| !wrong.is_empty()).collect();
    assert!(wrong.is_empty(), "seed {seed}: {}", wrong.join("\n"));
}
