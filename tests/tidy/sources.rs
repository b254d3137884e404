//! The sources of the workspace as text.

use std::fs::{read_dir, read_to_string};
use std::path::{Path, PathBuf};

/// One source file.
pub struct Source {
    /// Its path from the root of the workspace, such as `core/src/part/cut/mod.rs`.
    pub path: String,
    pub text: String,
}

/// The root of the workspace.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// A file of the workspace.
pub fn file(path: &str) -> String {
    read_to_string(root().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// All Rust files of a folder, by path.
pub fn all(folder: &str) -> Vec<Source> {
    let mut sources = Vec::new();
    collect(&root().join(folder), folder, &mut sources);
    sources.sort_by(|a, b| a.path.cmp(&b.path));
    assert!(!sources.is_empty(), "{folder} holds no Rust");
    sources
}

fn collect(folder: &Path, name: &str, sources: &mut Vec<Source>) {
    for entry in read_dir(folder).unwrap_or_else(|error| panic!("{name}: {error}")) {
        let entry = entry.expect("an entry");
        let path = format!("{name}/{}", entry.file_name().into_string().expect("UTF-8"));
        if entry.file_type().expect("a type").is_dir() {
            if !path.ends_with("/target") {
                collect(&entry.path(), &path, sources);
            }
        } else if path.ends_with(".rs") {
            let text = read_to_string(entry.path()).expect("UTF-8");
            sources.push(Source { path, text });
        }
    }
}
