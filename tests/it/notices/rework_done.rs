//! The pages of a notice that are drawn after its work was reported as done.

use super::rework_measured::shortened;
use crate::browser::Browser;
use crate::fixtures::create_kit;
use crate::kits::standing::one_kit;
use serde_json::json;
use std::io::Write;
use std::process::Command;

/// The text of a file, by PyMuPDF.
pub(crate) fn text(pdf: &[u8]) -> String {
    let mut file = tempfile::NamedTempFile::new().unwrap();
    file.write_all(pdf).unwrap();
    let python = std::env::var("MATCHMARK_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let script =
        "import sys, pymupdf; print(' '.join(' '.join(p.get_text().split()) for p in pymupdf.open(sys.argv[1])))";
    let output = Command::new(python).args(["-c", script]).arg(file.path()).output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn pages_drawn_after_the_work_was_done_do_not_say_that_it_is_not() {
    let kit = one_kit();
    kit.raise("mandatory");
    let pages = || text(&kit.server.get("/v1/kits/K-1/notices/1/pages", &kit.builder).expect(200).body);
    assert!(pages().contains("is not done"));
    kit.server.send("POST", "/v1/kits/K-1/notices/1/completion", &kit.builder, &[], None).expect(200);
    let done = kit.server.get("/v1/kits/K-1/notices", &kit.builder).expect(200).json();
    let day = &done["notices"][0]["done_at"].as_str().unwrap()[..10];
    let said = pages();
    assert!(!said.contains("is not done"), "{said}");
    let wanted = format!("Notice 1 was reported as done on {day} by the holder of the kit.");
    assert!(said.contains(&wanted), "{said}");
    assert!(!said.contains("Cross out their templates"), "these are the templates: {said}");
}

#[test]
fn pages_of_work_that_the_supplier_reported_say_on_whose_behalf() {
    let kit = one_kit();
    kit.raise("mandatory");
    kit.server.send("POST", "/v1/kits/K-1/notices/1/completion", &kit.publisher, &[], None).expect(200);
    let said = text(&kit.server.get("/v1/kits/K-1/notices/1/pages", &kit.builder).expect(200).body);
    assert!(said.contains("by the supplier, on behalf of the holder of the kit."), "{said}");
    assert!(said.contains("Rework pages of notice 1 (mandatory), revision A to B: no pack."), "{said}");
}

/// By hand: the other post becomes 10 mm shorter for notice 1. Notice 2 is of the same change: what it says of that post is what notice 1
/// took off it already.
#[test]
fn a_second_notice_of_a_change_says_which_parts_were_made_for_the_first() {
    let kit = shortened();
    kit.raise("mandatory");
    kit.server.send("POST", "/v1/kits/K-1/notices/1/completion", &kit.builder, &[], None).expect(200);
    kit.raise("mandatory");
    let listed = kit.server.get("/v1/kits/K-1/notices", &kit.builder).expect(200).json()["notices"].clone();
    let day = listed[0]["done_at"].as_str().unwrap()[..10].to_owned();
    assert_eq!(listed[1]["made_already"], json!([{"notice": 1, "day": day, "parts": ["other", "post"]}]), "{listed}");
    assert!(listed[0].get("made_already").is_none(), "{listed}");
    let wanted = "do not take it off a second time";
    let mut page = Browser::with_token(&kit.server, &kit.builder);
    page.get("/kits/K-1").says(wanted).says("Notice 1, done on");
    page.begin("/kits/K-1", "/kits/K-1/notices/2/done", &[]).says(wanted);
    let said = text(&kit.server.get("/v1/kits/K-1/notices/2/pages", &kit.builder).expect(200).body);
    assert!(said.contains(&format!("made anew for notice 1, done on {day}: other, post.")), "{said}");
    kit.issue(&json!({}));
    let pack = text(&kit.server.get("/v1/kits/K-1/packs/2/file", &kit.builder).expect(200).body);
    assert!(pack.contains(wanted));
    // Nothing of it for a kit that did not do the first.
    create_kit(&kit.server, &kit.publisher, "K-2", "frame", "A");
    let other = kit.server.get("/v1/kits/K-2/notices", &kit.publisher).expect(200).json();
    assert!(!other.to_string().contains("made_already"), "{other}");
}
