//! The figures of DEVELOPERS.md are those of the code.

use crate::sources::file;

/// Words of DEVELOPERS.md, where their figure stands in the code, and how.
const FIGURES: [(&str, &str, &str); 4] = [
    ("follows either line round the tube within 0.004 mm", "core/src/part/line.rs", "TOLERANCE: f64 = 0.004;"),
    ("for every combination up to 64", "core/src/choices/mod.rs", "MOST_ALL: usize = 64;"),
    (
        "96 where a single smooth surface can be met, 144 elsewhere",
        "core/src/part/cut/mod.rs",
        "const SIDES: u32 = 48;",
    ),
    ("no file of core over 400 lines", "tests/tidy/sizes.rs", "MOST: usize = 400;"),
];

#[test]
fn what_developers_are_told_is_so() {
    let told = file("DEVELOPERS.md").split_whitespace().collect::<Vec<_>>().join(" ");
    for (words, path, code) in FIGURES {
        assert!(told.contains(words), "DEVELOPERS.md no longer says {words:?}: say here what it says now");
        assert!(file(path).contains(code), "DEVELOPERS.md says {words:?}, yet {path} has no {code:?}");
    }
}

#[test]
fn the_lints_of_core_repeat_those_of_the_root() {
    let core = file("core/.clippy.toml");
    for line in file(".clippy.toml").lines() {
        assert!(core.lines().any(|known| known == line), "core/.clippy.toml lacks {line}");
    }
}
