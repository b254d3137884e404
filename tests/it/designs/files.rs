//! Files for machines and other programs over HTTP and from the command line. What they hold is checked by the tests beside these.

use crate::fixtures::{recall, two_kits};
use crate::server::binary;
use serde_json::Value;
use std::process::Command;

const OF_REVISION: &str = "/v1/designs/frame/revisions/A/files";
const OF_KIT: &str = "/v1/kits/K-1/files";

/// The names of a list.
fn names(list: &Value) -> Vec<String> {
    list["files"].as_array().unwrap().iter().map(|file| file["name"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn every_file_of_the_list_is_there_and_never_changes() {
    let kits = two_kits();
    for (place, stem) in [(OF_REVISION, "frame-rev-A"), (OF_KIT, "K-1-frame-rev-A")] {
        let list = kits.server.get(place, &kits.first).expect(200).json();
        assert!(
            names(&list).contains(&"all.zip".to_owned()) && names(&list).contains(&"tables.xlsx".to_owned()),
            "{list}"
        );
        for file in list["files"].as_array().unwrap() {
            let name = file["name"].as_str().unwrap();
            let path = format!("{place}/{name}");
            let answer = kits.server.get(&path, &kits.first).expect(200);
            assert_eq!(answer.header("content-type"), file["media_type"], "{name}");
            assert_eq!(answer.header("content-disposition"), format!("attachment; filename=\"{stem}-{name}\""));
            assert!(!answer.body.is_empty(), "{name}");
            assert!(kits.server.get(&path, &kits.publisher).expect(200).body == answer.body, "{name} changed");
            if name != "all.zip" {
                let known = [("if-none-match", answer.header("etag"))];
                kits.server.send("GET", &path, &kits.first, &known, None).expect(304);
                let part = kits.server.send("GET", &path, &kits.first, &[("range", "bytes=0-9")], None).expect(206);
                assert_eq!(part.body, answer.body[..10], "{name}");
            }
        }
    }
    let of_kit = kits.server.get(&format!("{OF_KIT}/cut-sheet.csv"), &kits.first).expect(200).body;
    assert!(String::from_utf8(of_kit).unwrap().contains("kit K-1"));
}

#[test]
fn a_file_that_is_none_is_refused_by_name() {
    let kits = two_kits();
    for name in ["none.csv", "cut-sheet", "part-none.step", "wrap-post.L-end-3.dxf", "..%2Fall.zip"] {
        kits.server.get(&format!("{OF_REVISION}/{name}"), &kits.publisher).problem(404, "unknown-file");
    }
    for query in ["label_width=10", "label_height=900", "taken=24", "gap_across=-1"] {
        let problem = kits.server.get(&format!("{OF_KIT}/labels.pdf?{query}"), &kits.first).problem(422, "not-drawn");
        assert_eq!(problem["code"], "labels-do-not-fit", "{query}");
        // An archive without its labels is none: what fails at once is a refusal.
        let files = kits.server.get(&format!("{OF_KIT}/cut-sheet.csv?{query}"), &kits.first).expect(200);
        assert!(!files.body.is_empty());
    }
    kits.server.get(&format!("{OF_KIT}/labels.pdf?label=10"), &kits.first).problem(400, "bad-request");
    let accept = [("accept", "application/pdf")];
    kits.server
        .send("GET", &format!("{OF_KIT}/cut-sheet.csv"), &kits.first, &accept, None)
        .problem(406, "not-acceptable");
}

#[test]
fn no_file_is_given_out_of_a_recalled_revision() {
    let kits = two_kits();
    recall(&kits, "A");
    for place in [OF_REVISION, OF_KIT] {
        for file in ["", "/cut-sheet.csv", "/frame.step", "/all.zip"] {
            let path = format!("{place}{file}");
            kits.server.get(&path, &kits.first).problem(409, "stop-sheet-first");
        }
        kits.server.get(&format!("{OF_REVISION}/all.zip"), &kits.publisher).problem(409, "not-in-force");
    }
    let acknowledged = "/v1/kits/K-1/stop-sheets/A/acknowledgement";
    kits.server.send("POST", acknowledged, &kits.first, &[], None).expect(200);
    for token in [&kits.first, &kits.support, &kits.publisher] {
        for place in [OF_REVISION, OF_KIT] {
            kits.server.get(&format!("{place}/all.zip"), token).problem(409, "not-in-force");
            kits.server.get(place, token).problem(409, "not-in-force");
        }
    }
}

#[test]
fn the_command_line_writes_the_same_files_without_a_service() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("frame.json"), crate::fixtures::frame(900)).unwrap();
    let run = |arguments: &[&str]| Command::new(binary()).args(arguments).current_dir(folder.path()).output().unwrap();
    let done = run(&["export", "frame.json", "-o", "out", "--date", "2026-11-25"]);
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let sheet = std::fs::read_to_string(folder.path().join("out/tables/cut-sheet.csv")).unwrap();
    assert!(sheet.contains("draft of 2026-11-25") && sheet.contains("DRAFT, NOT FOR CUTTING"), "{sheet}");
    assert!(folder.path().join("out/solids/frame.step").exists());
    for name in ["one.zip", "other.zip"] {
        let done = run(&["export", "frame.json", "-o", name, "--format", "csv,glb", "--date", "2026-11-25"]);
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    }
    let [one, other] = ["one.zip", "other.zip"].map(|name| std::fs::read(folder.path().join(name)).unwrap());
    assert!(one == other && one.starts_with(b"PK"));
    let refused = run(&["export", "frame.json", "-o", "out", "--format", "doc"]);
    assert_eq!(refused.status.code(), Some(2));
    let refused = run(&["export", "none.json", "-o", "out"]);
    assert_eq!(refused.status.code(), Some(2));
}

#[test]
fn pages_lead_to_the_files() {
    let kits = two_kits();
    let builder = crate::browser::Browser::with_token(&kits.server, &kits.first);
    let page = builder.get("/kits/K-1").expect(200);
    assert!(page.text.contains("Files for machines and programs"), "{}", page.text);
    let links: Vec<&str> = page
        .text
        .split("href=\"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .filter(|link| link.starts_with("/kits/K-1/files/"))
        .collect();
    assert!(links.len() >= 6, "{links:?}");
    for link in links {
        builder.get(link).expect(200);
    }
}
