//! No file is too long to be read at one go.

use crate::sources::all;

/// Most lines of a file of core.
const MOST: usize = 400;

/// Files of core that are longer, how long they may be at most, and why.
const LONGER: [(&str, usize, &str); 0] = [];

/// Most lines of the middle file of all crates.
const MEDIAN: usize = 122;

#[test]
fn no_file_of_core_is_long() {
    for source in all("core") {
        let lines = source.text.lines().count();
        let longer = LONGER.iter().find(|(path, ..)| *path == source.path);
        let most = longer.map_or(MOST, |(_, most, _)| *most);
        assert!(lines <= most, "{} has {lines} lines, {most} at most: part it by purpose", source.path);
        assert!(longer.is_none() || lines > MOST, "{} is short enough: take it off the list", source.path);
    }
    let paths: Vec<String> = all("core").into_iter().map(|source| source.path).collect();
    for (path, ..) in LONGER {
        assert!(paths.iter().any(|known| known == path), "{path} is gone: take it off the list");
    }
}

#[test]
fn half_of_all_files_are_short() {
    let mut lines: Vec<usize> = ["core", "server", "tests"]
        .iter()
        .flat_map(|folder| all(folder))
        .map(|source| source.text.lines().count())
        .collect();
    lines.sort_unstable();
    let median = lines[lines.len() / 2];
    assert!(median <= MEDIAN, "the middle one of {} files has {median} lines, {MEDIAN} at most", lines.len());
}
