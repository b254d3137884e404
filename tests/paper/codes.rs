//! The code of every page, read from a picture of it by an independent decoder, and pages corrected for a printer that is off.

use super::reader::{issue, read, run_python};
use matchmark_core::pack::{self, CheckBars, Paper, Seal};
use matchmark_core::seal::SealKey;

const DEMO: &str = include_str!("../../server/demo/rev_b.json");

#[test]
fn every_code_of_the_demo_is_decoded_from_a_picture_of_300_dots_an_inch_and_verified() {
    let sheets = matchmark_core::evaluate(DEMO).sheets.expect("the demo has no errors");
    let key = SealKey::new([3; 32]);
    let mut issue = issue(Paper::A4);
    issue.seal = Some(Seal {
        key: key.clone(),
        design_id: "fenrunner-two".into(),
        address: "HTTPS://PACKS.QUILLMOOR.EXAMPLE/P/".into(),
    });
    let pack = pack::render(&sheets, &issue).expect("a pack");
    let codes: Vec<String> = serde_json::from_value(run_python("read_codes.py", &pack.pdf)).expect("texts");
    assert_eq!(codes.len(), pack.manifest.pages.len());
    for (number, (code, page)) in codes.iter().zip(&pack.manifest.pages).enumerate() {
        let said = key.public().verify(code).unwrap_or_else(|error| panic!("page {}: {error}: {code:?}", number + 1));
        assert_eq!((usize::from(said.page), usize::from(said.pages)), (number + 1, codes.len()));
        assert_eq!((said.kit.as_str(), said.revision.as_str(), said.date.as_str()), ("BW-0001", "A", "2026-11-25"));
        assert!(page.signed_sha256.as_deref().is_some_and(|signed| signed.starts_with(&said.content)));
    }
}

#[test]
fn a_printer_that_is_off_is_met_by_longer_and_shorter_bars() {
    let sheets = matchmark_core::evaluate(DEMO).sheets.expect("the demo has no errors");
    let mut issue = issue(Paper::Letter);
    issue.print.check_bars = Some(CheckBars { across: 98.0, up: 101.25 });
    let pages = read(&pack::render(&sheets, &issue).expect("a pack").pdf);
    let page = pages.iter().find(|page| page.text.contains("base line: set to the mark at")).expect("a wrap");
    // A printer that makes 98 of 100 makes 100 of 100 / 0.98, and one that makes 101.25 makes 100 of 100 / 1.0125.
    for (axis, wanted) in [(0, 100.0 / 0.98), (1, 100.0 / 1.0125)] {
        assert!(page.lengths(axis).iter().any(|length| (length - wanted).abs() < 0.01), "{wanted}");
    }
    assert!(pages.iter().all(|page| (page.size[0] - 215.9).abs() < 0.001));
}
