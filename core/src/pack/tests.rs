//! The pack as a whole: bytes, pages, catalog, and that nothing on a page stands on anything else.

use super::fixture::{cope, issue, reckoned_sheets, sheets};
use super::*;
use crate::drawing::{Area, Item, Pen, Point, Text};
use crate::render::check_seals;
use crate::seal::SealKey;
use crate::sheets::End;

const PAPERS: [Paper; 5] = Paper::ALL;
const STATUSES: [Status; 2] = [Status::Issued, Status::Draft];

/// The sheets of the demo that the service comes with.
fn demo_sheets() -> Sheets {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../server/demo/rev_b.json");
    let mut evaluation = crate::evaluate(&std::fs::read_to_string(path).expect("the demo"));
    evaluation.number(None);
    evaluation.sheets.expect("no errors")
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
            issue
        })
    });
    issues
        .flat_map(|issue| {
            frames
                .iter()
                .map(|sheets| (issue.clone(), document(sheets, &issue).expect("renders").0))
                .collect::<Vec<_>>()
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
        for (index, Page { title, drawing, .. }) in document.pages.iter().enumerate() {
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
    for (issue, document) in all_packs() {
        let bar = check_bar::length_words(issue.print.units);
        let wraps = document.pages.iter().filter(|page| page.title.starts_with("Wrap "));
        for Page { title, drawing, .. } in wraps {
            let lines = drawing.texts().map(|text| text.content.as_str());
            let lines: Vec<&str> = lines.collect();
            let starts = |with: &str| lines.iter().any(|line| line.starts_with(with));
            if starts("Tile ") {
                // A tile shows the lines that fall on it.
                continue;
            }
            for index in ["0°", "90°", "180°", "270°"] {
                // Once in the strip and, where there is one, once round the clock.
                let count = lines.iter().filter(|line| **line == index).count();
                let clocks = usize::from(starts("seen from the from end"));
                assert!(count > clocks, "{title}: {index}");
            }
            assert!(starts("set-out ") && starts("overall "), "{title}");
            assert!(starts("base line: set to"), "{title}");
            assert!(starts(&format!("Measure between the outer ticks: {bar} across")), "{title}");
            assert!(starts(&format!("Measure between the outer ticks: {bar} up")), "{title}");
        }
    }
}

/// How far chords reach across.
fn reach(chords: &[(Point, Point)]) -> f64 {
    let across = |pick: fn(f64, f64) -> f64, start| chords.iter().map(|(a, b)| pick(a[0], b[0])).fold(start, pick);
    across(f64::max, f64::MIN) - across(f64::min, f64::MAX)
}

#[test]
fn a_wrap_is_printed_at_true_scale_with_the_paper_allowed_for() {
    let sheets = sheets();
    let issue = issue(Paper::A4, Status::Issued);
    let wrap = sheets.wraps.iter().find(|wrap| wrap.member == "stay.L" && wrap.end == End::To).expect("in the fixture");
    let furniture = furniture(&issue).expect("lettering");
    let drawing = wraps::page(wraps::Subject::of(&sheets, wrap), furniture).expect("fits");
    let run = drawing
        .paths()
        .filter(|path| path.pen == Some(Pen::Cut))
        .map(|path| path.chords(64))
        .max_by(|a, b| reach(a).total_cmp(&reach(b)))
        .expect("an outer line");
    let start = run[0].0;
    for [x, y] in &wrap.outer[0] {
        // Paper lies on a circle of od + 0.10 mm.
        let [x, y] = [start[0] + x * 45.10 / 45.0, start[1] + y - wrap.outer[0][0][1]];
        let on = |(a, b): &(Point, Point)| {
            (a[0] - 1e-9 <= x && x <= b[0] + 1e-9)
                .then(|| (a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0]).max(1e-12) - y).abs())
        };
        let off = run.iter().filter_map(on).fold(f64::INFINITY, f64::min);
        assert!(off < 0.006, "{off} mm off at {x}");
    }
    let says = |what: &str| drawing.texts().any(|text| text.content.contains(what));
    for figure in [
        "set-out 504 mm",
        "overall 612.4 mm",
        "clock 223.0 deg from",
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
        wraps::page(wraps::Subject::of(&Sheets::default(), &wrap), furniture)
    };
    let reach = |drawing: &Drawing, axis: usize| {
        let cut = drawing.items.iter().filter_map(|item| match item {
            Item::Path(path) if path.pen == Some(Pen::Cut) => Some(path),
            _ => None,
        });
        let run = cut.map(|path| path.chords(8).into_iter().flat_map(|(a, b)| [a[axis], b[axis]]).collect::<Vec<_>>());
        let spans =
            run.map(|run| run.iter().copied().fold(f64::MIN, f64::max) - run.iter().copied().fold(f64::MAX, f64::min));
        spans.fold(0.0, f64::max)
    };
    let round = |od: f64| std::f64::consts::PI * (od + 0.10);
    let upright = page(50.0).expect("fits");
    assert!((reach(&upright, 0) - round(50.0)).abs() < 1e-9);
    let turned = page(70.0).expect("fits when turned");
    assert!((reach(&turned, 1) - round(70.0)).abs() < 1e-9);
    let deep = cope("brace", End::From, [45.0, 2.5], 45.0, 30.0, 0.0);
    let letter = fixture::issue(Paper::Letter, Status::Draft);
    let on_letter = Furniture { issue: &letter, ..furniture };
    assert!(wraps::page(wraps::Subject::of(&Sheets::default(), &deep), on_letter).is_ok());
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
    let svg = wrap_svg(&sheets, wrap, &issue).expect("renders");
    assert!(svg.contains("width=\"215.9mm\" height=\"279.4mm\" viewBox=\"0 0 215.9 279.4\""));
    assert!(svg.contains("DRAFT, NOT FOR CUTTING"));
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

#[test]
fn the_parts_list_counts_every_member_and_plate_once() {
    let sheets = reckoned_sheets();
    let counted: usize = sheets.parts.iter().map(|part| part.quantity).sum();
    assert_eq!(counted, sheets.cut_sheet.rows.len() + sheets.plates.len());
    let pages = reckoned_pages(Paper::A4);
    assert!(says(page_of(&pages, "Parts list"), &format!("{counted} parts of {} numbers", sheets.parts.len())));
    assert!(says(page_of(&pages, "Parts list"), "one part for left and right"));
    let cut_sheet = page_of(&pages, "Cut sheet");
    for row in &sheets.cut_sheet.rows {
        assert!(!row.part_number.is_empty() && says(cut_sheet, &row.part_number), "{}", row.member);
    }
}

#[test]
fn both_hands_of_a_handed_pair_are_told_apart() {
    let sheets = reckoned_sheets();
    let pages = reckoned_pages(Paper::Letter);
    let title = "Left and right parts";
    let texts = || pages.iter().filter(|page| page.title == title).flat_map(|page| page.drawing.texts());
    let handed: Vec<_> = sheets.pairs.iter().filter(|pair| pair.handed).collect();
    assert!(!handed.is_empty() && handed.len() < sheets.pairs.len());
    for side in ["Left: ", "Right: "] {
        assert_eq!(texts().filter(|text| text.content.starts_with(side)).count(), handed.len());
    }
}

#[test]
fn a_rectangular_wrap_grows_in_its_corners_only_and_shows_its_folds() {
    let (sheets, issue) = (reckoned_sheets(), issue(Paper::A4, Status::Issued));
    let wrap =
        sheets.wraps.iter().find(|wrap| wrap.member == "strut.L" && wrap.end == End::From).expect("in the fixture");
    let furniture = furniture(&issue).expect("lettering");
    let page = &wraps::page(wraps::Subject::of(&sheets, wrap), furniture).expect("fits");
    let folds = page.paths().filter(|path| {
        let points: Vec<_> = path.points().collect();
        let is_upright = points.len() == 2 && points[0][0] == points[1][0];
        path.pen == Some(Pen::Hidden) && is_upright && (points[1][1] - points[0][1]).abs() > 10.0
    });
    assert_eq!(folds.count(), 8);
    // Round the outside of 30 x 20 with corners of 4 (closed form), and paper of 0.10 mm bent once round in all.
    let round = 2.0 * (30.0 + 20.0) - 8.0 * 4.0 + 2.0 * std::f64::consts::PI * 4.0;
    let line = page.paths().filter(|path| path.pen == Some(Pen::Cut) && path.points().count() > 4);
    let widest = line.map(|path| extent(std::iter::once(path))).map(|[a, _, b, _]| b - a).fold(0.0, f64::max);
    assert!((widest - round - std::f64::consts::PI * 0.10).abs() < 1e-5, "{widest}");
    for side in ["side 0°", "side 90°", "side 180°", "side 270°"] {
        assert!(says(page, side), "{side}");
    }
    assert!(says(page, "drill 6.5, bolt.L") && says(page, "fold lines"));
}

#[test]
fn a_plate_is_drawn_at_true_scale_or_says_that_it_is_not() {
    let pages = reckoned_pages(Paper::A4);
    let cut = |drawing: &Drawing| {
        let frame = |path: &crate::drawing::Path| path.points().count() < 5;
        let outlines: Vec<_> = drawing
            .paths()
            .filter(|path| path.pen == Some(Pen::Cut) && !frame(path))
            .map(|path| extent(std::iter::once(path)))
            .map(|[left, low, right, high]| [right - left, high - low])
            .collect();
        outlines
    };
    let has = |size: [f64; 2]| {
        let near = |found: &[f64; 2]| (0..2).all(|axis| (found[axis] - size[axis]).abs() < 1e-6);
        pages.iter().any(|page| cut(&page.drawing).iter().any(near))
    };
    assert!(has([130.0, 120.0]), "foot");
    assert!(has([160.0, 90.0]), "panel");
    assert!(has([600.0 / 5.0, 400.0 / 5.0]), "floor, reduced");
    let warned: Vec<_> = pages.iter().filter(|page| says(&page.drawing, "NOT AT TRUE SCALE")).collect();
    assert_eq!(warned.len(), 1);
    let words: Vec<&str> = warned[0].drawing.texts().map(|text| text.content.as_str()).collect();
    let words = words.join(" ");
    assert!(words.contains("at 20.0 and 20.0") && words.contains("at 580.0 and 380.0"), "{words}");
}

#[test]
fn a_hole_strip_stands_between_two_edges_or_leaves_the_holes_to_be_measured() {
    let sheets = reckoned_sheets();
    let pages = reckoned_pages(Paper::A4);
    let strip = sheets.strips.iter().find(|strip| strip.member == "stay_cross").expect("in the document");
    let page = page_of(&pages, "Holes back_stay.L");
    let all: Vec<&Drawing> = pages.iter().map(|page| &page.drawing).collect();
    let anywhere = |words: &str| all.iter().any(|drawing| says(drawing, words));
    assert!(
        anywhere(&format!("lower edge: {} mm", strip.lower)) && anywhere(&format!("upper edge: {} mm", strip.upper))
    );
    assert!(says(page, "Measure between the outer ticks: 100 mm up"));
    // 38 mm tube, paper 0.10 mm: the strip closes at pi x 38.10 mm.
    let wide = std::f64::consts::PI * 38.10;
    let near = |path: &&crate::drawing::Path| {
        let [left, low, right, high] = extent(std::iter::once(*path));
        path.pen == Some(Pen::Edge) && (right - left - wide).abs() < 1e-6 && (high - low - strip.height).abs() < 1e-9
    };
    assert!(all.iter().any(|drawing| drawing.paths().any(|path| near(&path))));
    assert!(anywhere("mark by measure"));
}

#[test]
fn every_check_dimension_has_two_empty_boxes() {
    let sheets = reckoned_sheets();
    let pages = reckoned_pages(Paper::A4);
    let from = pages.iter().position(|page| page.title == "Check dimensions").expect("a page");
    let boxes =
        pages[from..].iter().take_while(|page| page.title == "Check dimensions").map(|Page { drawing, .. }| {
            drawing.paths().filter(|path| path.pen == Some(Pen::Thin) && path.segments.len() == 5).count()
        });
    assert_eq!(boxes.sum::<usize>(), 2 * sheets.checks.len());
    let page = &pages[from].drawing;
    assert!(says(page, "Named by the design") && says(page, "Width over the feet of the hoop"));
    assert!(says(page, "Further ones, reckoned from the frame"));
}

#[test]
fn a_jig_sheet_shows_spread_and_height() {
    let sheets = reckoned_sheets();
    let pages = reckoned_pages(Paper::Letter);
    let page = page_of(&pages, "Jig sheet main_hoop");
    // Feet at y = 560 and -560; crown at 1200 over the base at 0, tube of 45.
    assert!((sheets.jigs[0].spread - 1120.0).abs() < 1e-6 && (sheets.jigs[0].height - 1222.5).abs() < 1e-3);
    for figure in ["1120.0", "1222.5"] {
        assert!(page.texts().any(|text| text.content == figure), "{figure}");
    }
    assert!(says(page, "seen from the front") && says(page, "seen from the left") && says(page, "base plane"));
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
    assert!(report.genuine, "{report:?}");
    assert_eq!(report.pages.len(), pack.manifest.pages.len());
    for (page, listed) in report.pages.iter().zip(&pack.manifest.pages) {
        let said = page.statement.as_ref().expect("signed");
        assert!(listed.content_sha256.starts_with(&said.content));
        assert_eq!(key.verify(listed.code.as_deref().expect("a code")).as_ref(), Ok(said));
        assert_eq!((said.revision.as_str(), said.kit.as_str()), ("B", "FT2-0017"));
    }
    assert!(!check_seals(&pack.pdf, &SealKey::new([8; 32]).public()).expect("a PDF").genuine);

    let spoil = |change: &dyn Fn(&mut lopdf::Document)| {
        let mut file = lopdf::Document::load_mem(&pack.pdf).expect("readable");
        change(&mut file);
        let mut bytes = Vec::new();
        file.save_to(&mut bytes).expect("saved");
        check_seals(&bytes, &key).expect("a PDF")
    };
    assert!(spoil(&|_| {}).genuine);
    let moved = spoil(&|file| {
        let page = file.get_pages()[&9];
        let parts = file.get_page_contents(page);
        let stream = file.get_object_mut(parts[0]).and_then(lopdf::Object::as_stream_mut).expect("content");
        let mut content = stream.decompressed_content().expect("content");
        content.extend(b"0 0 m 9 9 l S\n");
        stream.dict.remove(b"Filter");
        stream.set_content(content);
    });
    let faulty: Vec<usize> = moved.pages.iter().filter(|page| page.fault.is_some()).map(|page| page.place).collect();
    assert_eq!((moved.genuine, faulty), (false, vec![9]));
    let short = spoil(&|file| file.delete_pages(&[3]));
    assert!(!short.genuine && !short.faults.is_empty());
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

#[test]
fn links_lead_from_the_list_of_parts_to_their_pages() {
    let (document, _) = document(&reckoned_sheets(), &issue(Paper::A4, Status::Issued)).expect("renders");
    let links: Vec<_> = document.pages.iter().flat_map(|page| &page.links).collect();
    let wraps = reckoned_sheets().wraps.len();
    assert!(links.len() >= wraps, "{} of {wraps}", links.len());
    assert!(links.iter().all(|link| link.page < document.pages.len()));
}

/// A bar of 3000 mm fills the width of the page, so lengths on it are to that scale; sloped cuts are drawn with their depth of 40 mm.
#[test]
fn bars_are_drawn_to_scale_and_what_has_no_room_for_its_label_is_listed() {
    for paper in PAPERS {
        let issue = issue(paper, Status::Issued);
        let pages = document(&sheets(), &issue).expect("renders").0.pages;
        let plans: Vec<&Drawing> =
            pages.iter().filter(|page| page.title == "Stock plan").map(|page| &page.drawing).collect();
        assert!(!plans.is_empty());
        let scale =
            Furniture { letters: letters().expect("compiled in"), issue: &issue }.content_area().width / 3_000.0;
        let sloped: Vec<[f64; 4]> = plans
            .iter()
            .flat_map(|page| page.paths())
            .map(|path| path.points().collect::<Vec<_>>())
            .filter(|points| points.len() == 5 && (points[0][0] - points[3][0]).abs() > 1e-6)
            .map(|points| [points[0][0], points[1][0], points[2][0], points[3][0]])
            .collect();
        assert!(sloped.len() >= 13, "{}", sloped.len());
        for [a, _, _, d] in &sloped {
            assert!(((a - d).abs() - 40.0 * scale).abs() < 1e-6, "{a} {d} {scale}");
        }
        let long: Vec<f64> = sloped.iter().map(|[a, b, c, d]| b.max(*c) - a.min(*d)).collect();
        assert_eq!(long.iter().filter(|width| (*width - 400.0 * scale).abs() < 1e-6).count(), 7);
        let said = |words: &str| plans.iter().any(|page| says(page, words));
        for words in ["FT201", "rail, 45 x 2.5", "cut 1 x 3000 mm", "No plan: Part FT301", "FT101-1"] {
            assert!(said(words), "{words}");
        }
        assert!(!said("unbought"));
    }
}
