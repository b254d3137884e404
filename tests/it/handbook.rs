//! The handbook: it is served, every link in it leads somewhere, and all that it says to type works, in the order of its pages.
//!
//! A code block says after its language what it is: `sh run` is run by bash, `json file NAME` is saved first, `json http METHOD PATH` is
//! sent with the publisher's token and must be answered with 2xx, and `json answer` must be part of what was answered. `sh` alone is only
//! shown; other `json` must be JSON.

use crate::place::on_postgres;
use crate::server::{Server, binary};
use serde_json::Value;
use std::fmt::Write;
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};
use std::process::Command;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_owned()
}

/// What stands in the quotes after each of these words.
fn quoted<'a>(text: &'a str, before: &str) -> Vec<&'a str> {
    text.split(before).skip(1).map(|rest| rest.split('"').next().unwrap()).collect()
}

/// Addresses of all pages, in the order to read them in.
fn pages(server: &Server) -> Vec<String> {
    let first = server.get("/handbook", "").expect(200);
    let text = String::from_utf8(first.body).unwrap();
    let (_, list) = text.split_once("<nav class=\"unprinted\" aria-label=\"Handbook\">").unwrap();
    quoted(list.split("</nav>").next().unwrap(), "href=\"").into_iter().map(str::to_owned).collect()
}

fn read(server: &Server, address: &str) -> String {
    String::from_utf8(server.get(address, "").expect(200).body).unwrap()
}

#[test]
fn every_page_and_picture_is_served_and_every_link_leads_somewhere() {
    let server = Server::start();
    let pages = pages(&server);
    let files = std::fs::read_dir(root().join("server/handbook")).unwrap();
    let files = files.filter(|entry| entry.as_ref().unwrap().path().extension().is_some_and(|kind| kind == "md"));
    assert_eq!(pages.len(), files.count(), "each file is a page: {pages:?}");
    for page in &pages {
        let text = read(&server, page);
        assert!(text.contains("<h1 id="), "{page} has a heading");
        for picture in quoted(&text, "src=\"") {
            assert!(server.get(picture, "").expect(200).body.starts_with(b"\x89PNG"), "{picture}");
        }
        for link in quoted(&text, "href=\"") {
            let (address, place) = link.split_once('#').map_or((link, None), |(address, place)| (address, Some(place)));
            let address = if address.is_empty() { page } else { address };
            let answer = server.get(address, "");
            assert!([200, 303].contains(&answer.status), "{page} leads to {link}: {}", answer.status);
            let there = String::from_utf8_lossy(&answer.body).into_owned();
            assert!(place.is_none_or(|place| there.contains(&format!("id=\"{place}\""))), "{page} leads to {link}");
        }
    }
    server.get("/handbook/none", "").expect(404);
    server.get("/handbook/pictures/none.png", "").expect(404);
}

#[test]
fn a_kind_of_problem_leads_to_what_the_handbook_says_about_it() {
    let server = Server::start();
    let list = read(&server, "/problems");
    let kinds: Vec<&str> = quoted(&list, "<a href=\"/problems/");
    assert!(kinds.len() > 60);
    let mut led = 0;
    for kind in kinds {
        let page = read(&server, &format!("/problems/{kind}"));
        for link in quoted(&page, "href=\"/handbook/") {
            let (address, place) = link.split_once('#').unwrap();
            assert!(
                read(&server, &format!("/handbook/{address}")).contains(&format!("id=\"{place}\"")),
                "{kind}: {link}"
            );
            led += 1;
        }
    }
    assert!(led >= 30, "{led}");
    assert!(read(&server, "/problems/figures-differ").contains("/handbook/upgrading#a-revision-stays-what-it-was"));
}

/// A fenced block: where it begins, the words after the fence, and its lines.
struct Block {
    place: String,
    words: Vec<String>,
    text: String,
}

fn blocks(file: &Path) -> Vec<Block> {
    let text = std::fs::read_to_string(file).unwrap();
    let name = file.file_name().unwrap().to_str().unwrap();
    let mut blocks: Vec<Block> = Vec::new();
    let mut is_open = false;
    for (number, line) in text.lines().enumerate() {
        match line.strip_prefix("```") {
            Some("") if is_open => is_open = false,
            Some(info) => {
                assert!(!is_open, "{name}:{}: the block before is open", number + 1);
                is_open = true;
                let words = info.split(' ').map(str::to_owned).collect();
                blocks.push(Block { place: format!("{name}:{}", number + 1), words, text: String::new() });
            }
            None if is_open => blocks.last_mut().unwrap().text.extend([line, "\n"]),
            None => {}
        }
    }
    assert!(!is_open, "{name}: the last block is open");
    blocks
}

/// Whether all of `part` stands in `whole`.
fn holds(whole: &Value, part: &Value) -> bool {
    match (whole, part) {
        (Value::Object(whole), Value::Object(part)) => {
            part.iter().all(|(name, value)| whole.get(name).is_some_and(|there| holds(there, value)))
        }
        _ => whole == part,
    }
}

#[test]
fn what_the_handbook_says_to_type_works() {
    // It tells of a service on SQLite: to restore beside it, one on PostgreSQL needs a second database.
    if on_postgres() {
        return;
    }
    let server = Server::start();
    let scratch = tempfile::tempdir().unwrap();
    symlink(server.data.path(), scratch.path().join("data")).unwrap();
    symlink(binary(), scratch.path().join("matchmark")).unwrap();
    let mut script = "set -euo pipefail\ntrap 'echo \"failed at $at\" >&2' ERR\n".to_owned();
    let (mut requests, mut answers) = (0, Vec::new());
    for page in pages(&server) {
        let name = page.trim_start_matches("/handbook").trim_start_matches('/');
        let name = if name.is_empty() { "index" } else { name };
        for block in blocks(&root().join(format!("server/handbook/{name}.md"))) {
            let Block { place, words, text } = &block;
            let words: Vec<&str> = words.iter().map(String::as_str).collect();
            if words[0] == "json" {
                assert!(serde_json::from_str::<Value>(text).is_ok(), "{place} is no JSON");
            }
            writeln!(script, "at={place}").unwrap();
            match words[..] {
                ["sh", "run"] => script.push_str(text),
                ["json", "file", name] => std::fs::write(scratch.path().join(name), text).unwrap(),
                ["json", "http", method, path] => {
                    requests += 1;
                    write!(
                        script,
                        "curl -sS --fail-with-body -X {method} -H \"Authorization: Bearer $TOKEN\" -H 'Idempotency-Key: h{requests}' \
                         -o answer-{requests} --json @- http://127.0.0.1:8427{path} <<'JSON' || {{ cat answer-{requests}; false; }}\n{text}JSON\n"
                    )
                    .unwrap();
                }
                ["json", "answer"] => answers.push((requests, block)),
                ["sh" | "json"] => {}
                _ => panic!("{place}: {words:?} is no kind of block"),
            }
        }
    }
    let path = format!("{}:{}", scratch.path().display(), std::env::var("PATH").unwrap());
    let done = Command::new("bash")
        .args(["-c", &script.replace("127.0.0.1:8427", server.address())])
        .current_dir(scratch.path())
        .envs([("TOKEN", server.publisher()), ("PATH", path)])
        .envs(server.data.environment())
        .output()
        .unwrap();
    let (said, failed) = (String::from_utf8_lossy(&done.stdout), String::from_utf8_lossy(&done.stderr));
    assert!(done.status.success(), "{said}\n{failed}");
    assert!(requests > 10 && !answers.is_empty());
    for (request, block) in answers {
        let answer = std::fs::read(scratch.path().join(format!("answer-{request}"))).unwrap();
        let answer: Value = serde_json::from_slice(&answer).unwrap();
        assert!(holds(&answer, &serde_json::from_str(&block.text).unwrap()), "{}: {answer}", block.place);
    }
}

#[test]
fn the_texts_of_the_repository_can_be_read_in_any_window() {
    let mut texts: Vec<PathBuf> = ["README.md", "DEVELOPERS.md", "CHANGELOG.md"].map(|name| root().join(name)).into();
    texts.extend(std::fs::read_dir(root().join("server/handbook")).unwrap().map(|entry| entry.unwrap().path()));
    for file in texts.iter().filter(|file| file.is_file()) {
        let text = std::fs::read_to_string(file).unwrap();
        for (number, line) in text.lines().enumerate() {
            assert!(line.chars().count() <= 120, "{}:{} is longer than 120 characters", file.display(), number + 1);
        }
    }
    let readme = std::fs::read_to_string(root().join("README.md")).unwrap();
    assert!(readme.lines().count() <= 120);
    let pictures: Vec<&str> = readme
        .split("](")
        .skip(1)
        .map(|rest| rest.split(')').next().unwrap())
        .filter(|link| link.ends_with(".png"))
        .collect();
    assert_eq!(pictures.len(), 6);
    for link in readme.split("](").skip(1).map(|rest| rest.split(')').next().unwrap()) {
        assert!(root().join(link).exists(), "README.md leads to {link}");
    }
}
