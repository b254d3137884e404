//! Signed files, forged by libraries that share nothing with the writer, saved again and taken apart: `forge` says how, and what a
//! check must answer to each.

use super::reader::issue;
use matchmark_core::pack::{self, Issue, KitFact, Paper, Recall, Seal};
use matchmark_core::seal::SealKey;
use matchmark_core::seal::{Answer, PageSeal, SealReport, check_seals};
use matchmark_core::sheets::Sheets;
use std::path::Path;
use std::process::Command;

const DEMO: &str = include_str!("../../server/demo/rev_b.json");

/// The pack of one tube between two, as the first form of the seal signed it, with the key of 32 threes.
const OLD: &[u8] = include_bytes!("first_form.pdf");

/// A stop sheet of the same key, written when names like parts of a file still stood in it in plain.
const PLAIN_NAMES: &[u8] = include_bytes!("plain_names.pdf");

fn key() -> SealKey {
    SealKey::new([3; 32])
}

fn sealed(kit: &str) -> Issue {
    let mut issue = issue(Paper::A4);
    issue.kit = kit.into();
    issue.seal = Some(Seal {
        key: key(),
        design_id: "fenrunner-two".into(),
        address: "HTTPS://PACKS.QUILLMOOR.EXAMPLE/P/".into(),
    });
    issue
}

/// A pack with links, an outline, text pages and true-scale ones; few pages, because it is forged many times.
fn short() -> Sheets {
    let sheets = matchmark_core::evaluate(DEMO).sheets.expect("the demo has no errors");
    let wraps = sheets.wraps.into_iter().take(3).collect();
    Sheets { parts: sheets.parts, wraps, ..Sheets::default() }
}

fn recall() -> Recall {
    Recall {
        revision: "A".into(),
        date: "2026-11-21".into(),
        hazard: "The harness bar can tear out.".into(),
        what_to_do: "Do not drive the frame.".into(),
        remedies: "A new bar at no cost.".into(),
    }
}

fn stop_sheet(kit: &str) -> Vec<u8> {
    pack::stop_sheet_pdf(&recall(), &sealed(kit)).expect("a stop sheet")
}

fn check(bytes: &[u8]) -> SealReport {
    check_seals(bytes, &key().public()).expect("a PDF")
}

/// A row of `forge`: its name, the answer that it must have, and what each of two readers shows of each page.
type Row = (String, String, Vec<Vec<String>>);

/// The rows that a script of `forge` writes to a folder.
fn rows(script: &str, folder: &Path, file: &[u8], other: &[u8], alone: bool) -> Vec<Row> {
    let path = |name: &str| folder.join(name);
    std::fs::write(path("file.pdf"), file).expect("written");
    std::fs::write(path("other"), other).expect("written");
    let python = std::env::var("MATCHMARK_PYTHON").unwrap_or_else(|_| "python3".into());
    let mut command = Command::new(python);
    command.arg(Path::new(env!("CARGO_MANIFEST_DIR")).join("paper/forge").join(script));
    command.args([path("file.pdf"), folder.to_owned(), path("other")]).args(alone.then_some("alone"));
    let output = command.output().expect("Python runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("rows")
}

/// Every row of `forge` that a check answers otherwise than it must; at least `least` of the rows are forgeries.
fn otherwise(file: &[u8], other: &[u8], alone: bool, least: usize) -> Vec<String> {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name);
    let rows = rows("main.py", folder.path(), file, other, alone);
    let forged = rows.iter().filter(|(_, answer, _)| matches!(answer.as_str(), "forged" | "unclear")).count();
    assert!(forged >= least, "{forged} forgeries");
    let (_, _, whole) = rows.first().expect("a row");
    let differs = |(name, wanted, seen): &Row| {
        let report = check(&std::fs::read(path(&format!("{name}.pdf"))).expect("written"));
        let said = serde_json::to_value(report.answer).expect("JSON");
        let faults: Vec<_> = report.pages.iter().filter_map(|page| page.fault.as_ref()).collect();
        if said != wanted.as_str() {
            return Some(format!("{name}: {said}, not {wanted}: {:?} {faults:?} {:?}", report.faults, report.remarks));
        }
        (!report.answer.is_refusal() && *seen != shown(&report, whole)).then(|| format!("{name}: shows other pages"))
    };
    rows.iter().filter_map(differs).collect()
}

/// What readers must show of the pages that a check says are in a file, when they show `whole` of the issued one.
fn shown(report: &SealReport, whole: &[Vec<String>]) -> Vec<Vec<String>> {
    let numbers: Vec<usize> =
        report.pages.iter().flat_map(|page| &page.statement).map(|said| usize::from(said.page) - 1).collect();
    whole.iter().map(|pages| numbers.iter().map(|number| pages[*number].clone()).collect()).collect()
}

fn packs() -> [Vec<u8>; 2] {
    let sheets = short();
    ["BW-0001", "BW-0002"].map(|kit| pack::render(&sheets, &sealed(kit)).expect("a pack").pdf)
}

#[test]
fn a_forged_pack_is_found_out_and_one_saved_again_is_not_called_forged() {
    let [file, other] = packs();
    assert_eq!(otherwise(&file, &other, false, 150), Vec::<String>::new());
}

#[test]
fn a_forged_stop_sheet_is_found_out_and_one_saved_again_is_not_called_forged() {
    assert_eq!(otherwise(&stop_sheet("BW-0001"), &stop_sheet("BW-0002"), false, 140), Vec::<String>::new());
}

#[test]
fn a_forged_page_taken_out_of_a_pack_is_found_out_and_the_page_itself_is_not_called_forged() {
    let [file, other] = packs();
    assert_eq!(otherwise(&file, &other, true, 125), Vec::<String>::new());
}

/// Every row of `forge/mixed.py` that a check answers otherwise than it must; `words` must stand in what it says of all pages, `in_turn`
/// where some of the other file stand among those of the first.
fn mixed_otherwise(file: &[u8], other: &[u8], words: &str, in_turn: &str) -> Vec<String> {
    let folder = tempfile::tempdir().expect("a folder");
    let rows = rows("mixed.py", folder.path(), file, other, false);
    let forged = rows.iter().filter(|(_, wanted, _)| wanted == "forged").count();
    assert!(forged >= 19 && rows.len() - forged >= 16, "{forged} of {} forged", rows.len());
    let differs = |(name, wanted, _): &Row| {
        let report = check(&std::fs::read(folder.path().join(format!("{name}.pdf"))).expect("written"));
        let said = serde_json::to_value(report.answer).expect("JSON");
        let faults = report.faults.join(" ");
        let is_in_words = match name.as_str() {
            "pages_in_turn_by_qpdf" => in_turn,
            "all_by_qpdf_disable" | "all_by_pypdf" | "all_by_mupdf" => words,
            _ => "pages that were not issued together",
        };
        let of_one = |page: &PageSeal| page.fault.is_none() && page.statement.is_some();
        let is_told = || faults.contains(is_in_words) && report.is_mixed() && report.pages.iter().all(of_one);
        let is_right = said == wanted.as_str() && (wanted == "forged" || is_told());
        let pages: Vec<_> = report.pages.iter().filter_map(|page| page.fault.as_ref()).collect();
        (!is_right).then(|| format!("{name}: {said}, not {wanted}: {faults} {pages:?}"))
    };
    rows.iter().filter_map(differs).collect()
}

fn numbered_pack(kit: &str, number: &str) -> Vec<u8> {
    pack::render(&short(), &Issue { pack_number: number.into(), ..sealed(kit) }).expect("a pack").pdf
}

#[test]
fn pages_that_were_not_issued_together_are_not_vouched_for_and_not_called_forged_unless_one_is() {
    let pack_1 = numbered_pack("BW-0001", "1");
    let mut of_notice = sealed("BW-0001");
    of_notice.notice_pages = Some(pack::NoticePages { notice: 3, beside: 1, told: 12 });
    let notice = pack::render(&short(), &of_notice).expect("pages").pdf;
    let last = check(&pack_1).pages.len();
    let (next, all) = (last + 1, 2 * last);
    for (other, of_other) in [
        (numbered_pack("BW-0001", "2"), "of pack 2 of kit BW-0001"),
        (numbered_pack("BW-0002", "1"), "of pack 1 of kit BW-0002"),
        (notice, "of notice 3 (set N3/P1/12) of kit BW-0001"),
    ] {
        let words = format!(
            "pages 1 to {last} are of pack 1 of kit BW-0001, pages {next} to {all} are {of_other}. Check those of each"
        );
        let in_turn = format!("pages 1 and 3 are {of_other}, pages 2 and 4 are of pack 1 of kit BW-0001");
        assert_eq!(mixed_otherwise(&pack_1, &other, &words, &in_turn), Vec::<String>::new(), "{of_other}");
    }
    let stop = stop_sheet("BW-0001");
    let words =
        format!("pages 1 to {last} are of pack 1 of kit BW-0001, page {next} is the stop sheet of kit BW-0001.");
    let in_turn = "pages 1 and 3 are of pack 1 of kit BW-0001, page 2 is the stop sheet of kit BW-0001";
    assert_eq!(mixed_otherwise(&pack_1, &stop, &words, in_turn), Vec::<String>::new());
}

/// What `pages.py` and `said.py` change, and what a check must say of it.
const NAMED: [(&str, &str); 11] = [
    ("media_box_larger", "the size of the page is not what was signed"),
    ("crop_box_smaller", "the size of the page is not what was signed"),
    ("turned", "the turn of the page is not what was signed"),
    ("user_unit", "the scale of the page is not what was signed"),
    ("graphics_state_added", "the fonts or other resources of the page are not what was signed"),
    ("drawing_changed", "the drawing of the page is not what was signed"),
    ("painted_over_in_a_third_stream", "the code"),
    ("painted_between", "the drawing of the page is not what was signed"),
    ("print_scaling_changed", "how the file is printed or opened is not what was signed"),
    ("entries_to_a_part", "the entry \"Cover\" of its outline leads to a view of its page that was not signed"),
    ("an_entry_that_leads_nowhere_in_red", "of its outline has a colour or letters of its own"),
];

#[test]
fn what_differs_on_a_page_or_in_the_outline_is_named_once() {
    let [file, other] = packs();
    let folder = tempfile::tempdir().expect("a folder");
    rows("main.py", folder.path(), &file, &other, false);
    for (name, wanted) in NAMED {
        let report = check(&std::fs::read(folder.path().join(format!("{name}.pdf"))).expect("written"));
        let said: Vec<&String> = report.faults.iter().chain(report.pages.iter().flat_map(|page| &page.fault)).collect();
        assert!(matches!(said.as_slice(), [said] if said.contains(wanted)), "{name}: {said:?}");
    }
}

/// Every word of a file's frame (ISO 32000-1, 7.5), in what the supplier calls things.
const FRAME: &str = "startxref 9 %%EOF 1 0 obj << >> endobj stream endstream xref 0 1 trailer <";

/// A pack with a name of that kind wherever one reaches the file as text.
fn named_like_a_file() -> Issue {
    let mut issue = sealed("1 0 obj endobj startxref %%EOF");
    issue.supplier = FRAME.into();
    issue.design = format!("Bench frame {FRAME}");
    issue.pack_number = "P-1 startxref".into();
    issue.kit_facts = vec![KitFact::Choice { option: "frame".into(), choice: FRAME.into() }];
    issue
}

#[test]
fn a_file_whose_names_read_like_parts_of_a_file_is_the_issued_one_and_saved_again_the_same_pages() {
    let issue = named_like_a_file();
    // A role of roll structure is a word of the format and stays.
    let document = DEMO
        .replace("main_hoop", "startxref")
        .replace("\"roll_structure\": \"startxref\"", "\"roll_structure\": \"main_hoop\"");
    let sheets = matchmark_core::evaluate(&document).sheets.expect("no errors");
    let wraps = sheets.wraps.into_iter().take(3).collect();
    let short = Sheets { parts: sheets.parts, wraps, ..Sheets::default() };
    let pack = pack::render(&short, &issue).expect("a pack").pdf;
    let recall = Recall { hazard: FRAME.into(), what_to_do: FRAME.into(), remedies: FRAME.into(), ..recall() };
    let stop = pack::stop_sheet_pdf(&recall, &issue).expect("a stop sheet");
    for (file, alone) in [(&pack, false), (&pack, true), (&stop, false)] {
        assert_eq!(check(file).answer, Answer::Issued, "{:?}", check(file).faults);
        let mut others = otherwise(file, &packs()[1], alone, 85);
        // This library writes the outline of what it puts together in plain letters: such a file is not vouched for.
        let plain = ["pages_put_together_by_pypdf: \"unclear\"", "file_put_in_by_pypdf: \"unclear\""];
        others.retain(|row| !plain.iter().any(|known| row.starts_with(known)));
        assert_eq!(others, Vec::<String>::new());
    }
}

#[test]
fn a_file_that_was_written_with_such_names_in_plain_is_known_byte_for_byte() {
    let report = check(PLAIN_NAMES);
    assert_eq!((report.answer, report.pages.len()), (Answer::Issued, 1), "{:?}", report.faults);
    let at = PLAIN_NAMES.windows(14).position(|window| window == b"1 0 obj endobj").expect("a name");
    let mut other = PLAIN_NAMES.to_vec();
    other[at] = b'2';
    let report = check(&other);
    assert_eq!(report.answer, Answer::Unclear);
    assert!(report.faults[0].ends_with("Use the file that was issued, or have another program save it"), "{report:?}");
}

#[test]
fn a_seal_of_the_first_form_says_what_it_covers_and_is_known_by_the_hash_of_its_file() {
    let report = check(OLD);
    assert_eq!(report.answer, Answer::OldSeal, "{report:?}");
    assert!(report.pages.iter().all(|page| page.statement.as_ref().is_some_and(|said| said.form == 1)));
    assert_eq!(report.known().answer, Answer::Issued);
    let other = check_seals(OLD, &SealKey::new([4; 32]).public()).expect("a PDF");
    assert_eq!(other.answer, Answer::Forged);
    assert_eq!(other.known().answer, Answer::Forged);
}

#[test]
fn the_whole_demo_is_known_byte_for_byte_and_by_another_key_not_at_all() {
    let sheets = matchmark_core::evaluate(DEMO).sheets.expect("the demo has no errors");
    let pack = pack::render(&sheets, &sealed("BW-0001")).expect("a pack");
    let report = check(&pack.pdf);
    assert_eq!((report.answer, report.pages.len()), (Answer::Issued, pack.manifest.pages.len()), "{:?}", report.faults);
    assert_eq!(report.sha256, pack.manifest.file_sha256);
    let other = check_seals(&pack.pdf, &SealKey::new([4; 32]).public()).expect("a PDF");
    assert_eq!(other.answer, Answer::Forged);
}

#[test]
fn a_file_with_one_other_byte_is_never_the_issued_file() {
    let file = stop_sheet("BW-0001");
    let mut answers = [0; 2];
    for at in (5..file.len()).step_by(23) {
        let mut other = file.clone();
        other[at] ^= 1;
        match check(&other).answer {
            Answer::Forged | Answer::Unclear => answers[0] += 1,
            // White space, the document's identifier, and what savers write.
            Answer::SamePages => answers[1] += 1,
            answer => panic!("byte {at}: {answer:?}"),
        }
    }
    assert!(answers[0] > 20 * answers[1], "{answers:?}");
    for end in (0..file.len()).step_by(997) {
        if let Ok(report) = check_seals(&file[..end], &key().public()) {
            assert_eq!(report.answer, Answer::Unclear, "cut at {end}");
        }
    }
}
