//! Packs as files for keeping: ISO 19005-2 (PDF/A-2), level B, by the clauses that concern them. `check_archive.py` says how far that goes.

use super::reader::{issue, run_python};
use matchmark_core::pack::{self, CheckBars, Hands, Paper, Seal, Units};
use matchmark_core::seal::SealKey;
use matchmark_core::sheets::Sheets;
use serde_json::Value;

const DEMO: &str = include_str!("../../server/demo/rev_b.json");

fn demo() -> Sheets {
    let mut evaluation = matchmark_core::evaluate(DEMO);
    evaluation.number(None);
    evaluation.sheets.expect("the demo has no errors")
}

fn pack_of(sheets: &Sheets, change: impl Fn(&mut pack::Issue)) -> Vec<u8> {
    let mut issue = issue(Paper::A4);
    issue.seal = Some(Seal {
        key: SealKey::new([3; 32]),
        design_id: "fenrunner-two".into(),
        address: "HTTPS://PACKS.QUILLMOOR.EXAMPLE/P/".into(),
    });
    change(&mut issue);
    pack::render(sheets, &issue).expect("a pack").pdf
}

fn clauses(pdf: &[u8]) -> Vec<String> {
    let faults = run_python("check_archive.py", pdf);
    let faults = faults.as_array().expect("a list");
    faults.iter().map(|fault| format!("{}: {}", text(&fault["clause"]), text(&fault["fault"]))).collect()
}

fn text(value: &Value) -> &str {
    value.as_str().expect("text")
}

#[test]
fn packs_keep_every_clause_of_pdf_a_2_level_b_that_concerns_them() {
    let sheets = demo();
    let plain = pack_of(&sheets, |_| {});
    assert_eq!(clauses(&plain), Vec::<String>::new());
    let other = pack_of(&sheets, |issue| {
        issue.supplier = "Løvås & Sønner <Frames>".into();
        issue.status = pack::Status::Draft;
        issue.seal = None;
        issue.print.paper = Paper::Roll;
        issue.print.units = Units::InchFraction;
        issue.print.hands = Hands::Left;
        issue.print.check_bars = Some(CheckBars { across: 3.97, up: 4.02 });
    });
    assert_eq!(clauses(&other), Vec::<String>::new());

    // Each of these spoils one thing of a short pack without moving a byte.
    let short = pack_of(&Sheets { parts: sheets.parts, ..Sheets::default() }, |_| {});
    assert_eq!(clauses(&short), Vec::<String>::new());
    for (clause, from, to) in [
        ("6.1.2", "%PDF-1.7", "%PDF-2.0"),
        ("6.1.3", "/ID[", "/IX["),
        ("6.1.7.1", "\nendstream", " endstream"),
        ("6.2.3", "/OutputIntents[", "/OutputIntentX["),
        ("6.2.3", "/GTS_PDFA1", "/GTS_PDFX1"),
        ("6.2.11.4.1", "/FontFile2", "/FontFileX"),
        ("6.2.11.3.2", "/CIDToGIDMap", "/CIDToGIDMax"),
        ("6.3.2", "/F 4/", "/F 2/"),
        ("6.5.2", "/Dest[", "/AA  ["),
        ("6.6.2.1", "/Metadata ", "/Metadatx "),
        ("6.6.3", "<pdf:Producer>Matchmark<", "<pdf:Producer>Matchmarl<"),
        ("6.6.4", "<pdfaid:part>2<", "<pdfaid:part>3<"),
        ("6.6.2.3.1", "pdfaid:conformance>", "pdfaid:conformitiy>"),
    ] {
        let spoiled = replaced(&short, from.as_bytes(), to.as_bytes());
        let found = clauses(&spoiled);
        assert!(found.iter().any(|fault| fault.starts_with(&format!("{clause}:"))), "{from}: {found:?}");
    }
    let longer = [short.as_slice(), b"more"].concat();
    assert!(clauses(&longer).iter().any(|fault| fault.starts_with("6.1.3:")));
}

/// The same bytes with every place of one text taken by another as long.
fn replaced(bytes: &[u8], from: &[u8], to: &[u8]) -> Vec<u8> {
    assert_eq!(from.len(), to.len());
    let mut bytes = bytes.to_vec();
    let places: Vec<usize> = (0..bytes.len() - from.len()).filter(|at| bytes[*at..].starts_with(from)).collect();
    assert!(!places.is_empty(), "{}", String::from_utf8_lossy(from));
    for at in places {
        bytes[at..at + to.len()].copy_from_slice(to);
    }
    bytes
}
