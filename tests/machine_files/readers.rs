//! Readers in Python and JavaScript, and what they say of files.

use serde_json::Value;
use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;

/// Lets a script beside this file read a folder of files, with the Python of `tests/run` or with `python3` where its packages are
/// installed.
pub fn python(script: &str, files: &BTreeMap<String, Vec<u8>>) -> Value {
    let program = std::env::var("MATCHMARK_PYTHON").unwrap_or_else(|_| "python3".into());
    read(&program, script, files)
}

/// The same in JavaScript, with the packages of `tests/contract`.
pub fn node(script: &str, files: &BTreeMap<String, Vec<u8>>) -> Value {
    read("node", script, files)
}

fn read(program: &str, script: &str, files: &BTreeMap<String, Vec<u8>>) -> Value {
    let folder = tempfile::tempdir().expect("a temporary folder");
    for (name, bytes) in files {
        std::fs::write(folder.path().join(name), bytes).expect("written");
    }
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("machine_files").join(script);
    let output = Command::new(program).arg(script).arg(folder.path()).output().expect("it runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("JSON")
}

/// A figure that a reader told.
pub fn figure(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no figure"))
}

/// Figures that a reader told.
pub fn figures<const N: usize>(value: &Value) -> [f64; N] {
    std::array::from_fn(|at| figure(&value[at]))
}
