//! The pages of a notice that are drawn after its work was reported as done.

use crate::kits::standing::one_kit;
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
