//! The pack as a whole: bytes, pages, catalog, and that nothing on a page stands on anything else.

mod about;
mod counting;
mod delta;
mod frames;
mod inches;
mod keys;
mod left_long;
mod notice_pages;
mod pages;
mod places;
mod pseudo;
mod steel;
mod steps;
mod templates;
mod told;
mod trimmed;
mod unwanted;

use super::fixture::{issue, reckoned_sheets, sheets};
use super::*;
use crate::drawing::{Area, Drawing, Text};
use crate::render::Page;
use crate::seal::{Answer, SealReport, check_seals};
use crate::seal::{PublicKey, SealKey};
use crate::sheets::Changes;
use crate::words::EN;
use frames::{demo_changes, demo_revisions, demo_sheets, measured_sheets, revised, revisions_with};

const PAPERS: [Paper; 5] = Paper::ALL;
const STATUSES: [Status; 2] = [Status::Issued, Status::Draft];

/// The pages of a pack before they are written, and which of them are laid on metal.
fn document(sheets: &Sheets, issue: &Issue) -> Result<(Document, Vec<bool>), RenderError> {
    let (document, facts) = drawn_with_facts(sheets, issue)?;
    Ok((document, facts.into_iter().map(|page| page.is_template).collect()))
}

/// The same with what stands on each.
fn drawn_with_facts(sheets: &Sheets, issue: &Issue) -> Result<(Document, Vec<PageFacts>), RenderError> {
    drawn(sheets, furniture(issue)?)
}

/// A pack that comes after another, with all that a holder can be told.
fn told(issue: Issue) -> Issue {
    let changes = demo_changes();
    let notice = |number: i64, is_in_pack: bool, work: Option<Changes>| Notice {
        number,
        class: NoticeClass::Mandatory,
        date: "2026-11-20".to_owned(),
        from: "A".to_owned(),
        to: "B".to_owned(),
        text: "The harness bar sits 12 mm too wide.\nTrim it with the new wrap before it is welded in.".to_owned(),
        is_in_pack,
        is_stopped: false,
        made_already: Vec::new(),
        is_remeasured: false,
        done: None,
        work,
    };
    let since = Since {
        revision: "A".to_owned(),
        pack_number: "1".to_owned(),
        changes: changes.clone(),
        only: false,
        pages: Vec::new(),
        stale: Vec::new(),
        moved_to: None,
    };
    let recall = Recall {
        revision: "A".to_owned(),
        date: "2026-11-21".to_owned(),
        hazard: "The lower stay can part from the hoop under load. Whoever sits in the frame can be hurt.".repeat(3),
        what_to_do: "Do not drive the frame.\nLook for cracks at both ends of both stays, and answer the notice."
            .to_owned(),
        remedies: "New stays and new wraps, at no cost.".to_owned(),
    };
    let mut of_bar = changes.clone();
    of_bar.parts.retain(|part| part.member == "harness_bar");
    of_bar.checks.retain(|check| check.name == "harness_height");
    Issue {
        since: Some(since),
        notices: vec![notice(1, false, Some(of_bar)), notice(2, true, Some(changes)), notice(3, false, None)],
        recalls: vec![recall],
        ..issue
    }
}

fn all_packs() -> Vec<(Issue, Document)> {
    let frames = [sheets(), reckoned_sheets(), demo_sheets()];
    let issues = PAPERS.into_iter().flat_map(|paper| {
        STATUSES.map(|status| {
            let mut issue = issue(paper, status);
            // Each unit on some of the papers, the one with the longest figures on drafts of all.
            issue.print.units = match (status, paper) {
                (Status::Draft, _) => Units::InchFraction,
                (Status::Issued, Paper::Letter | Paper::Roll) => Units::Inch,
                (Status::Issued, _) => Units::Mm,
            };
            issue.print.hands = if paper == Paper::Letter { Hands::Left } else { Hands::Both };
            // A printer that prints too small leaves the least room.
            if (paper, status) == (Paper::A4, Status::Issued) {
                issue.print.hands = Hands::Right;
                issue.print.check_bars = Some(CheckBars { across: 90.5, up: 91.0 });
            }
            if status == Status::Issued { told(issue) } else { issue }
        })
    });
    let whole = issues.flat_map(|issue| {
        frames.iter().map(|sheets| (issue.clone(), document(sheets, &issue).expect("renders").0)).collect::<Vec<_>>()
    });
    let measured = measured_sheets();
    let measured = PAPERS.into_iter().map(|paper| {
        let issue = issue(paper, Status::Issued);
        (issue.clone(), document(&measured, &issue).expect("renders").0)
    });
    whole.chain(measured).chain(PAPERS.map(delta::pack)).collect()
}

#[test]
fn the_same_input_gives_the_same_bytes_in_one_process_and_across_threads() {
    let (sheets, issue) = (sheets(), issue(Paper::A4, Status::Issued));
    let first = render(&sheets, &issue).expect("renders");
    assert_eq!(first, render(&sheets, &issue).expect("renders"));
    std::thread::scope(|scope| {
        let workers: Vec<_> = (0..4).map(|_| scope.spawn(|| render(&sheets, &issue).expect("renders"))).collect();
        for worker in workers {
            assert!(worker.join().expect("no panic") == first);
        }
    });
    let mut later = issue.clone();
    later.date = "2026-11-26".to_owned();
    assert_ne!(first, render(&sheets, &later).expect("renders"));
}

#[test]
fn a_printer_that_is_a_little_off_gets_its_pack_too() {
    let sheets = demo_sheets();
    for paper in [Paper::Letter, Paper::A4] {
        for bar in (0..12).map(|step| 90.5 + f64::from(step)).chain([98.6, 99.2]) {
            let mut issue = issue(paper, Status::Issued);
            issue.print.check_bars = Some(CheckBars { across: bar, up: bar });
            let drawn = render(&sheets, &issue);
            assert!(drawn.is_ok(), "{} at {bar}: {:?}", paper.name(), drawn.err());
        }
    }
}

#[test]
fn no_text_stands_on_another_text() {
    for (issue, document) in all_packs() {
        for Page { title, drawing, .. } in &document.pages {
            let texts: Vec<(&Text, Area)> =
                drawing.texts().map(|text| (text, letters().expect("compiled in").area(text))).collect();
            for (index, (text, area)) in texts.iter().enumerate() {
                for (other, taken) in &texts[index + 1..] {
                    assert!(
                        !area.overlaps(taken),
                        "{:?} {:?}, {title}: {:?} on {:?}",
                        issue.print.paper,
                        issue.status,
                        text.content,
                        other.content
                    );
                }
            }
        }
    }
}

#[test]
fn no_line_runs_through_a_text() {
    for (issue, document) in all_packs() {
        for Page { title, drawing, .. } in &document.pages {
            let letters = letters().expect("compiled in");
            let lines: Vec<_> =
                drawing.paths().filter(|path| path.pen.is_some()).flat_map(|path| path.chords(8)).collect();
            for text in drawing.texts() {
                // From the base line to the height of capitals; descenders may touch a rule below them.
                let area = letters.area(text);
                let area = area.inset(0.2 * area.height.min(area.width));
                for (a, b) in &lines {
                    assert!(
                        !area.meets_segment(*a, *b),
                        "{:?} {:?}, {title}: {:?} is crossed at {a:?} {b:?}",
                        issue.print.paper,
                        issue.status,
                        text.content
                    );
                }
            }
        }
    }
}

#[test]
fn pages_have_the_size_of_the_paper_and_the_catalog_asks_for_true_scale() {
    for paper in PAPERS {
        let sheets = sheets();
        let issue = issue(paper, Status::Issued);
        let pages = document(&sheets, &issue).expect("renders").0.pages.len();
        let bytes = render(&sheets, &issue).expect("renders").pdf;
        let file = lopdf::Document::load_mem(&bytes).expect("readable");
        assert_eq!(file.version, "1.7");
        assert_eq!(file.get_pages().len(), pages);
        for id in file.get_pages().into_values() {
            let page = file.get_dictionary(id).expect("page");
            let media: Vec<f32> = page
                .get(b"MediaBox")
                .and_then(lopdf::Object::as_array)
                .expect("MediaBox")
                .iter()
                .map(|side| side.as_float().expect("number"))
                .collect();
            // A point is 1/72 of an inch of 25.4 mm.
            for (points, mm) in media[2..].iter().zip(paper.size()) {
                assert!((f64::from(*points) - mm * 72.0 / 25.4).abs() < 0.001);
            }
        }
        let catalog = file.catalog().expect("catalog");
        let viewer = catalog.get(b"ViewerPreferences").and_then(lopdf::Object::as_dict).expect("viewer preferences");
        let name = |dictionary: &lopdf::Dictionary, key: &[u8]| {
            let name = dictionary.get(key).and_then(lopdf::Object::as_name);
            String::from_utf8_lossy(name.expect("name")).into_owned()
        };
        assert_eq!(name(viewer, b"PrintScaling"), "None");
        for key in ["PickTrayByPDFSize", "DisplayDocTitle"] {
            let flag = viewer.get(key.as_bytes()).and_then(lopdf::Object::as_bool);
            assert!(flag.expect(key), "{key}");
        }
        assert_eq!(name(catalog, b"PageMode"), "UseOutlines");
        assert_eq!(catalog.get(b"Lang").and_then(lopdf::Object::as_str).ok(), Some(b"en".as_slice()));
        let titles = file.get_toc().expect("outline").toc;
        assert_eq!(titles[0].title, "Cover");
        assert!(titles.iter().any(|t| t.title == "Wrap stay.L, end 2"));
        assert!(titles.iter().any(|t| t.title == "Bend sheet main_hoop"));
        let info = file.trailer.get(b"Info").and_then(lopdf::Object::as_reference);
        let info = file.get_dictionary(info.expect("reference")).expect("Info");
        assert_eq!(
            info.get(b"CreationDate").and_then(lopdf::Object::as_str).ok(),
            Some(b"D:20261125000000Z".as_slice())
        );
        assert!(!info.has(b"GTS_PDFXVersion"));
    }
}

#[test]
fn every_page_names_what_it_belongs_to() {
    for (issue, document) in all_packs() {
        let count = document.pages.len();
        for (index, Page { title, drawing, .. }) in document.pages.iter().enumerate() {
            let says = |what: &str| drawing.texts().any(|text| text.content == what);
            assert!(says(&issue.design) && says(&issue.date), "{title}");
            assert!(says(&format!("{} of {count}", index + 1)), "{title}");
            match issue.status {
                Status::Draft => assert!(says(EN.page.draft_mark()), "{title}"),
                Status::Issued => {
                    assert!(says("B") && says("FT2-0017") && says("P-000042"), "{title}");
                    assert!(!says(EN.page.draft_mark()), "{title}");
                }
            }
        }
    }
}

#[test]
fn what_cannot_be_printed_is_refused_by_name() {
    let mut foreign = sheets();
    foreign.cut_sheet.rows[3].member = "stay.\u{4e2d}".to_owned();
    let issue = issue(Paper::A4, Status::Issued);
    assert_eq!(render(&foreign, &issue).map_err(|error| error.code()), Err("missing-glyph"));
    let mut infinite = sheets();
    infinite.wraps[2].outer[0][7][1] = f64::INFINITY;
    assert_eq!(render(&infinite, &issue).map_err(|error| error.code()), Err("coordinate-not-finite"));
    let mut undated = issue.clone();
    undated.date = "25.11.2026".to_owned();
    assert_eq!(render(&sheets(), &undated).map_err(|error| error.code()), Err("date-not-readable"));
}

/// The pages of the engine's own frame by their titles.
fn reckoned_pages(paper: Paper) -> Vec<Page> {
    document(&reckoned_sheets(), &issue(paper, Status::Issued)).expect("renders").0.pages
}

fn page_of<'a>(pages: &'a [Page], title: &str) -> &'a Drawing {
    let found = pages.iter().find(|page| page.title.split("; ").any(|part| part == title));
    let titles = || pages.iter().map(|page| &page.title).collect::<Vec<_>>();
    &found.unwrap_or_else(|| panic!("no page {title} among {:?}", titles())).drawing
}

fn says(drawing: &Drawing, words: &str) -> bool {
    drawing.texts().any(|text| text.content.contains(words))
}

/// Least and largest coordinates of some paths.
fn extent<'a>(paths: impl Iterator<Item = &'a crate::drawing::Path>) -> [f64; 4] {
    paths.flat_map(crate::drawing::Path::points).fold([f64::MAX, f64::MAX, f64::MIN, f64::MIN], |box_, [x, y]| {
        [box_[0].min(x), box_[1].min(y), box_[2].max(x), box_[3].max(y)]
    })
}

fn sealed(paper: Paper) -> Issue {
    let seal = Seal { key: SealKey::new([7; 32]), design_id: "fenrunner-two".to_owned(), address: String::new() };
    Issue { seal: Some(seal), ..issue(paper, Status::Issued) }
}

#[test]
fn every_page_is_signed_and_a_change_to_it_is_seen() {
    let pack = render(&sheets(), &sealed(Paper::A4)).expect("renders");
    let key = SealKey::new([7; 32]).public();
    let report = check_seals(&pack.pdf, &key).expect("a PDF");
    assert_eq!(report.answer, Answer::Issued, "{report:?}");
    assert_eq!(report.pages.len(), pack.manifest.pages.len());
    for (page, listed) in report.pages.iter().zip(&pack.manifest.pages) {
        let said = page.statement.as_ref().expect("signed");
        assert!(listed.signed_sha256.as_deref().expect("signed").starts_with(&said.content));
        assert_eq!(key.verify(listed.code.as_deref().expect("a code")).as_ref(), Ok(said));
        assert_eq!((said.form, said.revision.as_str(), said.kit.as_str()), (2, "B", "FT2-0017"));
    }
    let other = check_seals(&pack.pdf, &SealKey::new([8; 32]).public()).expect("a PDF");
    assert_eq!(other.answer, Answer::Forged);

    assert_eq!(spoiled(&pack.pdf, &key, &|_| {}).answer, Answer::SamePages);
    let moved = spoiled(&pack.pdf, &key, &|file| draw_more(file, 9));
    let faulty: Vec<usize> = moved.pages.iter().filter(|page| page.fault.is_some()).map(|page| page.place).collect();
    assert_eq!((moved.answer, faulty), (Answer::Forged, vec![9]));
}

/// A page of the first form is held against its code as far as that goes: its drawing.
#[test]
fn a_seal_of_the_first_form_covers_the_drawing() {
    let old = include_bytes!("../../../../tests/paper/first_form.pdf");
    let key = SealKey::new([3; 32]).public();
    assert_eq!(spoiled(old, &key, &|_| {}).answer, Answer::OldSeal);
    let changed = spoiled(old, &key, &|file| draw_more(file, 2));
    assert_eq!(changed.known().answer, Answer::Forged);
}

/// What a check finds of a file that was changed and saved.
fn spoiled(file: &[u8], key: &PublicKey, change: &dyn Fn(&mut lopdf::Document)) -> SealReport {
    let mut file = lopdf::Document::load_mem(file).expect("readable");
    change(&mut file);
    let mut bytes = Vec::new();
    file.save_to(&mut bytes).expect("saved");
    check_seals(&bytes, key).expect("a PDF")
}

/// Draws one more line on a page.
fn draw_more(file: &mut lopdf::Document, page: u32) {
    let page = file.get_pages()[&page];
    let parts = file.get_page_contents(page);
    let stream = file.get_object_mut(parts[0]).and_then(lopdf::Object::as_stream_mut).expect("content");
    let mut content = stream.decompressed_content().expect("content");
    content.extend(b"0 0 m 9 9 l S\n");
    stream.dict.remove(b"Filter");
    stream.set_content(content);
}

#[test]
fn a_print_is_corrected_by_its_check_bars_and_refused_where_they_cannot_be_trusted() {
    let mut issue = issue(Paper::A4, Status::Issued);
    issue.print.check_bars = Some(CheckBars { across: 98.0, up: 101.0 });
    issue.print.check().expect("within bounds");
    let pack = render(&reckoned_sheets(), &issue).expect("renders");
    let file = lopdf::Document::load_mem(&pack.pdf).expect("readable");
    for id in file.get_pages().into_values() {
        let content = file.get_page_content(id);
        // 100 / 98 and 100 / 101.
        assert!(content.starts_with(b"q\n1.020408 0 0 0.990099 0 0 cm\n"));
    }
    for (across, up, code) in [(89.9, 100.0, "across"), (100.0, 110.1, "up"), (f64::NAN, 100.0, "across")] {
        issue.print.check_bars = Some(CheckBars { across, up });
        let error = issue.print.check().expect_err("out of bounds");
        assert_eq!((error.code(), error.pointer()), ("check-bar-too-far-off", &*format!("/check_bars/{code}")));
    }
}
