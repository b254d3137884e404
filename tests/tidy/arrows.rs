//! A folder of core uses only folders before it, so that data flows one way and there is no circle.

use crate::sources::{Source, all, file};
use std::collections::{BTreeMap, BTreeSet};

/// The stages of core in order. Each uses those before it and none after it.
const STAGES: [&str; 18] = [
    "stop", "words", "geometry", "document", "frame", "part", "stock", "sheets", "evaluate", "choices", "joint",
    "nodes", "drawing", "view", "solid", "seal", "render", "pack",
];

/// The same of the folders of a pack.
const PACK: [&str; 3] = ["layout", "say", "kinds"];

/// Arrows that run back all the same, and why. The list can only get shorter.
const BACK: [(&str, &str, &str); 0] = [];

#[test]
fn arrows_of_core_run_one_way() {
    let sources = all("core/src");
    let named = named(&file("core/src/lib.rs"));
    let arrows = arrows(&sources, "core/src", |path| path.first().map(|name| named.get(name).unwrap_or(name).clone()));
    for folder in arrows.keys().filter(|folder| *folder != "lib") {
        assert!(STAGES.contains(&folder.as_str()), "{folder} is not among the stages: say where it stands");
    }
    assert!(arrows["evaluate"].keys().any(|folder| folder == "sheets"), "no arrow was read: {arrows:?}");
    let back = against(&arrows, &STAGES);
    let known: BTreeSet<(&str, &str)> = BACK.iter().map(|(from, to, _)| (*from, *to)).collect();
    for ((from, to), files) in &back {
        assert!(known.contains(&(from.as_str(), to.as_str())), "{from} uses {to}, which comes after it, in {files:?}");
    }
    for (from, to) in known {
        assert!(
            back.contains_key(&(from.to_owned(), to.to_owned())),
            "{from} no longer uses {to}: take it off the list"
        );
    }
}

#[test]
fn what_lays_out_knows_no_page_kind() {
    let sources = all("core/src/pack");
    let arrows = arrows(&sources, "core/src/pack", |path| (path.first()? == "pack").then(|| path.get(1).cloned())?);
    assert!(arrows["kinds"].contains_key("layout"), "no arrow was read: {arrows:?}");
    assert_eq!(against(&arrows, &PACK), BTreeMap::new());
}

/// Of each folder the folders that it uses, and in which files.
type Arrows = BTreeMap<String, BTreeMap<String, BTreeSet<String>>>;

/// The arrows between the folders and files in `under`. `place` is the one to which a path from the root of the crate leads.
fn arrows(sources: &[Source], under: &str, place: impl Fn(&[String]) -> Option<String>) -> Arrows {
    let mut arrows = Arrows::new();
    for source in sources {
        let inside = source.path[under.len() + 1..].trim_end_matches(".rs");
        let modules: Vec<&str> = source.path["core/src/".len()..].trim_end_matches(".rs").split('/').collect();
        let from = inside.split('/').next().unwrap_or_default().to_owned();
        if modules.iter().any(|name| ["tests", "fixture"].contains(name)) || from == "mod" || from == "lib" {
            continue;
        }
        let used = arrows.entry(from.clone()).or_default();
        for path in used_paths(&without_tests(&source.text), &modules) {
            if let Some(to) = place(&path).filter(|to| *to != from) {
                used.entry(to).or_default().insert(source.path.clone());
            }
        }
    }
    arrows
}

/// The arrows that run against an order, and in which files.
fn against(arrows: &Arrows, order: &[&str]) -> BTreeMap<(String, String), BTreeSet<String>> {
    let rank = |name: &str| order.iter().position(|known| *known == name);
    let mut back = BTreeMap::new();
    for (from, used) in arrows {
        for (to, files) in used {
            if rank(from).zip(rank(to)).is_some_and(|(from, to)| to > from) {
                back.insert((from.clone(), to.clone()), files.clone());
            }
        }
    }
    back
}

/// Where what the root of the crate gives on comes from: `Stop` from `stop`.
fn named(lib: &str) -> BTreeMap<String, String> {
    let mut named = BTreeMap::new();
    for line in lib.split(';').filter_map(|line| line.trim().strip_prefix("pub use ")) {
        if let Some((module, names)) = line.split_once("::") {
            for path in leaves(names) {
                named.insert(path.concat(), module.to_owned());
            }
        }
    }
    assert_eq!(named.get("Stop").map(String::as_str), Some("stop"));
    named
}

/// A source up to the tests at its end, without comments.
fn without_tests(text: &str) -> String {
    let end = text.find("#[cfg(test)]\nmod tests {").unwrap_or(text.len());
    text[..end].lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n")
}

/// Every path of a source that begins with `crate` or `super`, from the root of the crate. `modules` is where the source lies.
fn used_paths(text: &str, modules: &[&str]) -> Vec<Vec<String>> {
    let here: Vec<&str> = modules.iter().copied().filter(|name| *name != "mod").collect();
    let mut paths = Vec::new();
    for (at, _) in text.match_indices("crate::") {
        paths.extend(leaves(&text[at + "crate::".len()..]));
    }
    for (at, _) in text.match_indices("super::") {
        // Of several in a row the first one stands for all.
        if text[..at].ends_with("super::") {
            continue;
        }
        let mut rest = &text[at..];
        let mut up = 0;
        while let Some(after) = rest.strip_prefix("super::") {
            (rest, up) = (after, up + 1);
        }
        let base: Vec<String> = here[..here.len().saturating_sub(up)].iter().map(|&name| name.to_owned()).collect();
        paths.extend(leaves(rest).into_iter().map(|leaf| [base.clone(), leaf].concat()));
    }
    paths
}

/// The paths that a path stands for: `a::{b, c::d}` for two.
fn leaves(text: &str) -> Vec<Vec<String>> {
    let mut path = Vec::new();
    let mut rest = text;
    loop {
        if let Some(inner) = rest.strip_prefix('{') {
            return parts(inner).into_iter().flat_map(leaves).map(|leaf| [path.clone(), leaf].concat()).collect();
        }
        let end = rest.find(|letter: char| !letter.is_alphanumeric() && letter != '_').unwrap_or(rest.len());
        path.push(rest[..end].to_owned());
        match rest[end..].strip_prefix("::") {
            Some(after) => rest = after,
            None => return vec![path],
        }
    }
}

/// What stands between the commas of a list whose opening brace is before it.
fn parts(inner: &str) -> Vec<&str> {
    let (mut depth, mut start, mut parts) = (0, 0, Vec::new());
    for (at, letter) in inner.char_indices() {
        match letter {
            '{' => depth += 1,
            '}' if depth > 0 => depth -= 1,
            ',' | '}' if depth == 0 => {
                parts.push(inner[start..at].trim());
                start = at + 1;
                if letter == '}' {
                    break;
                }
            }
            _ => {}
        }
    }
    parts.retain(|part| !part.is_empty());
    parts
}

#[test]
fn paths_are_read_in_every_form() {
    let read = |text: &str| -> Vec<String> {
        used_paths(text, &["pack", "kinds", "cover"]).iter().map(|path| path.join("::")).collect()
    };
    assert_eq!(
        read("use crate::{Stop, part::{Cut, Line},\n document};"),
        ["Stop", "part::Cut", "part::Line", "document"]
    );
    assert_eq!(read("use super::super::layout::flow::Flow;"), ["pack::layout::flow::Flow"]);
    assert_eq!(read("let a = super::notices::lines(x);"), ["pack::kinds::notices::lines"]);
    assert_eq!(read("pub(in crate::pack) fn a() {}"), ["pack"]);
}
