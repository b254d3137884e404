//! The pack as a whole: bytes, pages, catalog, and that nothing on a page stands on anything else.

use super::fixture::{cope, issue, reckoned_sheets, sheets};
use super::free_place::chords;
use super::*;
use crate::drawing::{Area, Item, Pen, Text};
use crate::sheets::End;

const PAPERS: [Paper; 2] = [Paper::A4, Paper::Letter];
const STATUSES: [Status; 2] = [Status::Issued, Status::Draft];

fn all_packs() -> Vec<(Issue, Document)> {
    let frames = [sheets(), reckoned_sheets()];
    let issues = PAPERS.into_iter().flat_map(|paper| STATUSES.map(|status| issue(paper, status)));
    issues
        .flat_map(|issue| {
            frames.iter().map(|sheets| (issue.clone(), document(sheets, &issue).expect("renders"))).collect::<Vec<_>>()
        })
        .collect()
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
fn no_text_stands_on_another_text() {
    for (issue, document) in all_packs() {
        for (title, drawing) in &document.pages {
            let texts: Vec<(&Text, Area)> =
                drawing.texts().map(|text| (text, letters().expect("compiled in").area(text))).collect();
            for (index, (text, area)) in texts.iter().enumerate() {
                for (other, taken) in &texts[index + 1..] {
                    assert!(
                        !area.overlaps(taken),
                        "{:?} {:?}, {title}: {:?} on {:?}",
                        issue.paper,
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
        for (title, drawing) in &document.pages {
            let letters = letters().expect("compiled in");
            let lines: Vec<_> = drawing.paths().filter(|path| path.pen.is_some()).flat_map(chords).collect();
            for text in drawing.texts() {
                // From the base line to the height of capitals; descenders may touch a rule below them.
                let area = letters.area(text);
                let area = area.inset(0.2 * area.height.min(area.width));
                for (a, b) in &lines {
                    assert!(
                        !area.meets_segment(*a, *b),
                        "{:?} {:?}, {title}: {:?} is crossed at {a:?} {b:?}",
                        issue.paper,
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
        let pages = document(&sheets, &issue).expect("renders").pages.len();
        let bytes = render(&sheets, &issue).expect("renders");
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
        assert!(titles.iter().any(|t| t.title == "Wrap stay.L, to end"));
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
        for (index, (title, drawing)) in document.pages.iter().enumerate() {
            let says = |what: &str| drawing.texts().any(|text| text.content == what);
            assert!(says(&issue.design) && says(&issue.date), "{title}");
            assert!(says(&format!("{} of {count}", index + 1)), "{title}");
            match issue.status {
                Status::Draft => assert!(says(furniture::DRAFT_MARK), "{title}"),
                Status::Issued => {
                    assert!(says("B") && says("FT2-0017") && says("P-000042"), "{title}");
                    assert!(!says(furniture::DRAFT_MARK), "{title}");
                }
            }
        }
    }
}

#[test]
fn every_wrap_numbers_its_index_lines_and_says_where_it_goes() {
    for (_, document) in all_packs() {
        let wraps = document.pages.iter().filter(|(title, _)| title.starts_with("Wrap "));
        for (title, drawing) in wraps {
            let lines = drawing.texts().map(|text| text.content.as_str());
            let lines: Vec<&str> = lines.collect();
            let starts = |with: &str| lines.iter().any(|line| line.starts_with(with));
            for index in ["0°", "90°", "180°", "270°"] {
                // Once in the strip and, where there is one, once round the clock.
                let count = lines.iter().filter(|line| **line == index).count();
                let clocks = usize::from(starts("seen from the from end"));
                assert!(count > clocks, "{title}: {index}");
            }
            assert!(starts("set-out ") && starts("overall "), "{title}");
            assert!(starts("base line: set to"), "{title}");
            assert!(starts("Measure between the outer ticks: 100 mm across"), "{title}");
            assert!(starts("Measure between the outer ticks: 100 mm up"), "{title}");
        }
    }
}

#[test]
fn a_wrap_is_printed_at_true_scale_with_the_paper_allowed_for() {
    let sheets = sheets();
    let issue = issue(Paper::A4, Status::Issued);
    let wrap = sheets.wraps.iter().find(|wrap| wrap.member == "stay.L" && wrap.end == End::To).expect("in the fixture");
    let furniture = furniture(&issue).expect("lettering");
    let drawing = wraps::page(wrap, wraps::row_of(&sheets, wrap), furniture).expect("fits");
    let run = drawing
        .paths()
        .filter(|path| path.pen == Some(Pen::Cut))
        .map(|path| path.points().collect::<Vec<_>>())
        .max_by_key(Vec::len)
        .expect("an outer line");
    let start = run[0];
    for (point, [x, y]) in run.iter().zip(&wrap.outer[0]) {
        // Paper lies on a circle of od + 0.10 mm.
        let expected = [x * 45.10 / 45.0, y - wrap.outer[0][0][1]];
        for axis in 0..2 {
            assert!((point[axis] - start[axis] - expected[axis]).abs() < 1e-9);
        }
    }
    let says = |what: &str| drawing.texts().any(|text| text.content.contains(what));
    for figure in [
        "set-out 504 mm",
        "overall 612.4 mm",
        "clock between ends 223.0 deg",
        "circumference 141.37 mm",
        "to the other end (from end)",
    ] {
        assert!(says(figure), "{figure}");
    }
}

#[test]
fn a_thick_tube_is_turned_and_a_thicker_one_refused() {
    let issue = issue(Paper::A4, Status::Issued);
    let furniture = furniture(&issue).expect("lettering");
    let page = |od: f64| {
        let wrap = cope("post", End::To, [od, 3.0], od, 90.0, 0.0);
        wraps::page(&wrap, None, furniture)
    };
    let reach = |drawing: &Drawing, axis: usize| {
        let cut = drawing.items.iter().filter_map(|item| match item {
            Item::Path(path) if path.pen == Some(Pen::Cut) => Some(path),
            _ => None,
        });
        let run = cut
            .map(|path| path.points().map(|p| p[axis]).collect::<Vec<_>>())
            .max_by_key(Vec::len)
            .expect("an outer line");
        run.iter().copied().fold(f64::MIN, f64::max) - run.iter().copied().fold(f64::MAX, f64::min)
    };
    let round = |od: f64| std::f64::consts::PI * (od + 0.10);
    let upright = page(50.0).expect("fits");
    assert!((reach(&upright, 0) - round(50.0)).abs() < 1e-9);
    let turned = page(70.0).expect("fits when turned");
    assert!((reach(&turned, 1) - round(70.0)).abs() < 1e-9);
    let deep = cope("brace", End::From, [45.0, 2.5], 45.0, 30.0, 0.0);
    let letter = fixture::issue(Paper::Letter, Status::Draft);
    let on_letter = Furniture { issue: &letter, ..furniture };
    assert!(wraps::page(&deep, None, on_letter).is_ok());
    let refused = page(114.3).expect_err("too large for A4");
    assert_eq!(refused.code(), "wrap-too-large");
    assert!(refused.to_string().contains("post"));
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

#[test]
fn a_wrap_alone_is_one_page_in_either_format() {
    let sheets = sheets();
    let issue = issue(Paper::Letter, Status::Draft);
    let wrap = &sheets.wraps[3];
    let bytes = wrap_pdf(&sheets, wrap, &issue).expect("renders");
    let file = lopdf::Document::load_mem(&bytes).expect("readable");
    assert_eq!(file.get_pages().len(), 1);
    let svg = wrap_svg(wrap, &issue).expect("renders");
    assert!(svg.contains("width=\"215.9mm\" height=\"279.4mm\" viewBox=\"0 0 215.9 279.4\""));
    assert!(svg.contains("DRAFT, NOT FOR CUTTING"));
}
