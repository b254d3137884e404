//! The public cases (`tests/cases/exchange.tar.gz`, with a README of its own): drawings written by ezdxf 1.4.5, solids by a general-purpose
//! solid-modelling kernel, workbooks by openpyxl 3.1.5, tables by Python's csv. `check.py` came with them and judges.

use matchmark_core::Stop;
use matchmark_import::{Import, SourceFile, import_text};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

pub fn python() -> Command {
    Command::new(std::env::var("MATCHMARK_PYTHON").unwrap_or_else(|_| "python3".into()))
}

/// All cases, unpacked.
pub fn unpacked() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    let archive = concat!(env!("CARGO_MANIFEST_DIR"), "/cases/exchange.tar.gz");
    let done = python().args(["-m", "tarfile", "-e", archive]).arg(folder.path()).output().unwrap();
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    folder
}

/// Source files of a case. The one of a million lines is made here, as its README tells: entities of no known kind.
pub fn sources(case: &Path, expected: &Value) -> Vec<SourceFile> {
    let names = expected["files"].as_array().unwrap().iter().map(|name| name.as_str().unwrap());
    names
        .map(|name| match name.strip_suffix(".gz") {
            Some(name) => SourceFile { name: name.to_owned(), bytes: junk() },
            None => SourceFile { name: name.to_owned(), bytes: std::fs::read(case.join(name)).unwrap() },
        })
        .collect()
}

/// Half a million entities of no known kind.
fn junk() -> Vec<u8> {
    let mut text = "  0\nSECTION\n  2\nENTITIES\n".to_owned();
    for number in 0..500_000 {
        text.push_str(&format!("  0\nJ{}\n", number % 7919));
    }
    text.push_str("  0\nENDSEC\n  0\nEOF\n");
    text.into_bytes()
}

/// What `check.py` finds wrong; empty when all is right.
fn judged(case: &Path, import: &Import, told: bool) -> String {
    let folder = tempfile::tempdir().unwrap();
    let (design, said) = (folder.path().join("design.json"), folder.path().join("said.json"));
    std::fs::write(&said, serde_json::to_string(&import.report).unwrap()).unwrap();
    let mut check = python();
    check.arg(concat!(env!("CARGO_MANIFEST_DIR"), "/exchange/check.py")).arg(case).arg("--said").arg(&said);
    if let Some(document) = &import.design {
        std::fs::write(&design, document.to_string()).unwrap();
        check.arg("--design").arg(&design);
    }
    if told {
        check.arg("--told");
    }
    let done = check.output().unwrap();
    if done.status.success() { String::new() } else { String::from_utf8_lossy(&done.stdout).into_owned() }
}

fn read(files: &[SourceFile], answers: &Value) -> Import {
    import_text(files, Some(&answers.to_string()), None, Stop::NEVER).unwrap()
}

/// Reads one case as a person would, and judges it.
pub fn wrong(case: &Path) -> String {
    let expected: Value = serde_json::from_str(&std::fs::read_to_string(case.join("expected.json")).unwrap()).unwrap();
    let files = sources(case, &expected);
    let mut answers = expected["ask"].clone();
    let again = answers.as_object_mut().unwrap().remove("unit_when_asked_again");
    let import = read(&files, &answers);
    assert_eq!(import.design, read(&files, &answers).design, "the same files gave something else");
    let mut wrong = judged(case, &import, false);
    if let Some(unit) = again {
        assert!(import.design.is_none(), "{} was not asked about", case.display());
        answers["unit"] = unit;
        wrong += &judged(case, &read(&files, &answers), true);
    }
    wrong
}

#[test]
fn every_public_case_is_read_right_or_refused_for_the_right_reason() {
    let folder = unpacked();
    let mut cases: Vec<PathBuf> = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.join("expected.json").exists())
        .collect();
    cases.sort();
    assert_eq!(cases.len(), 40);
    let wrong: Vec<String> = cases.iter().map(|case| wrong(case)).filter(|wrong| !wrong.is_empty()).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_design_that_is_off_is_not_taken_for_right() {
    // The judge itself: a moved end, a missing tube.
    let folder = unpacked();
    let case = folder.path().join("dxf_trolley_r12_mm");
    let expected: Value = serde_json::from_str(&std::fs::read_to_string(case.join("expected.json")).unwrap()).unwrap();
    let right = read(&sources(&case, &expected), &expected["ask"]);
    assert_eq!(judged(&case, &right, false), "");
    let mut off = right.clone();
    off.design.as_mut().unwrap()["members"].as_array_mut().unwrap().pop();
    assert!(judged(&case, &off, false).contains("missing"));
    let mut moved = right;
    let points = moved.design.as_mut().unwrap()["points"].as_object_mut().unwrap();
    let first = points.values_mut().next().unwrap();
    first[2] = json!(first[2].as_f64().unwrap() + 0.05);
    assert!(judged(&case, &moved, false).contains("off by"));
}
