//! What is laid on metal: wraps, plates and hole strips at true scale.

use super::{all_packs, demo_sheets, document, extent, page_of, reckoned_pages, says};
use crate::drawing::{Drawing, Item, Pen, Point};
use crate::pack::fixture::{self, cope, issue, reckoned_sheets, sheets};
use crate::pack::*;
use crate::render::Page;
use crate::sheets::End;

#[test]
fn every_wrap_numbers_its_index_lines_and_says_where_it_goes() {
    for (issue, document) in all_packs() {
        let bar = layout::check_bar::length_words(issue.print.units);
        let wraps = document.pages.iter().filter(|page| page.title.starts_with("Wrap "));
        for Page { title, drawing, .. } in wraps {
            let lines = drawing.texts().map(|text| text.content.as_str());
            let lines: Vec<&str> = lines.collect();
            let starts = |with: &str| lines.iter().any(|line| line.starts_with(with));
            if starts("Tile ") || starts("This template is larger than the paper") {
                // A tile shows the lines that fall on it, and the page before the first has the words only.
                continue;
            }
            for index in ["0°", "90°", "180°", "270°"] {
                // Once in the strip and, where there is one, once round the clock.
                let count = lines.iter().filter(|line| **line == index).count();
                let clocks = usize::from(starts("heavy: ") || starts("dashed: "));
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
        "set-out 437 mm",
        "overall 612.4 mm",
        "clock 223.0 deg from",
        "circumference 141.37 mm",
        "to the other end (end 1)",
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
fn a_wrap_alone_is_one_page_in_either_format() {
    let sheets = sheets();
    let issue = issue(Paper::Letter, Status::Draft);
    let wrap = &sheets.wraps[3];
    let bytes = wraps_pdf(&sheets, &[wrap], &issue).expect("renders");
    let file = lopdf::Document::load_mem(&bytes).expect("readable");
    assert_eq!(file.get_pages().len(), 1);
    let svg = wrap_svg(&sheets, wrap, &issue).expect("renders");
    assert!(svg.contains("width=\"215.9mm\" height=\"279.4mm\" viewBox=\"0 0 215.9 279.4\""));
    assert!(svg.contains("DRAFT, NOT FOR CUTTING"));
}

/// A tube of 114.3: its wrap is 359 mm wide, which A4 takes in tiles only and A3 does not take in one piece.
#[test]
fn a_wrap_that_the_paper_takes_in_tiles_is_one_drawing_as_svg() {
    let (sheets, issue) = (Sheets::default(), issue(Paper::A4, Status::Issued));
    let wrap = &cope("post", End::To, [114.3, 3.0], 114.3, 90.0, 0.0);
    let svg = wrap_svg(&sheets, wrap, &issue).expect("renders");
    assert!(svg.contains("width=\"609.6mm\" height=\"914.4mm\""), "{}", &svg[..200]);
    let bytes = wraps_pdf(&sheets, &[wrap], &issue).expect("renders");
    assert!(lopdf::Document::load_mem(&bytes).expect("readable").get_pages().len() > 1);
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
    let mut sheets = reckoned_sheets();
    let mut large = sheets.plates.iter().find(|plate| plate.plate == "floor").expect("in the document").clone();
    let thrice = |at: [f64; 2]| at.map(|mm| 3.0 * mm);
    large.plate = "deck".to_owned();
    large.part_number = "FT999-1".to_owned();
    large.size = thrice(large.size);
    large.outline = large.outline.iter().map(|at| thrice(*at)).collect();
    large.holes.iter_mut().for_each(|hole| hole.at = thrice(hole.at));
    sheets.plates.push(large);
    let pages = document(&sheets, &issue(Paper::A4, Status::Issued)).expect("renders").0.pages;
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
    assert!(has([1800.0 / 20.0, 1200.0 / 20.0]), "deck, reduced");
    let warned: Vec<_> = pages.iter().filter(|page| says(&page.drawing, "NOT AT TRUE SCALE")).collect();
    assert_eq!(warned.len(), 1);
    let words: Vec<&str> = warned[0].drawing.texts().map(|text| text.content.as_str()).collect();
    let words = words.join(" ");
    assert!(words.contains("at 60.0 mm by 60.0 mm") && words.contains("at 1740.0 mm by 1140.0 mm"), "{words}");
    // The floor, 600 x 400, comes in tiles, each named on itself.
    let floor: Vec<&Page> = pages.iter().filter(|page| page.title == "Plate floor").collect();
    let texts = |page: &&Page| page.drawing.texts().map(|text| text.content.clone()).collect::<Vec<_>>();
    let tiles: Vec<&&Page> = floor.iter().filter(|page| says(&page.drawing, "Tile ")).collect();
    for page in &tiles {
        for fact in ["Plate floor", "pack P-000042", "kit FT2-0017"] {
            assert!(texts(page).iter().any(|text| text == fact), "{fact}: {:?}", texts(page));
        }
    }
    let named: Vec<String> = floor.iter().flat_map(texts).filter(|text| text.starts_with("column ")).collect();
    let names: Vec<&str> = named.iter().map(String::as_str).collect();
    let wanted = [(1, 1), (2, 1), (4, 1), (1, 2), (4, 2)].map(|(column, row)| format!("column {column}, row {row}"));
    assert!(names.len() >= 8 && wanted.iter().all(|tile| names.contains(&tile.as_str())), "{names:?}");
    for (index, tile) in names.iter().enumerate() {
        let heading = format!("Tile {} of {}: {tile}", index + 1, names.len());
        assert!(pages.iter().any(|page| says(&page.drawing, &heading)), "{heading}");
    }
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
fn a_pack_of_one_hand_holds_no_template_of_the_other_and_says_so() {
    let sheets = reckoned_sheets();
    for paper in Paper::ALL {
        let of = |hands: Hands| {
            let mut issue = issue(paper, Status::Issued);
            issue.print.hands = hands;
            document(&sheets, &issue).expect("renders")
        };
        let (both, _) = of(Hands::Both);
        assert!(!both.pages.iter().any(|page| says(&page.drawing, "another pack")));
        let named = |document: &Document| {
            let titles = document.outline.iter().map(|bookmark| bookmark.title.clone());
            titles.filter(|title| ["Wrap ", "Plate", "Holes "].iter().any(|kind| title.starts_with(kind))).collect()
        };
        let all: Vec<String> = named(&both);
        for (hands, gone) in [(Hands::Left, ".R"), (Hands::Right, ".L")] {
            let (document, templates) = of(hands);
            assert!(says(&document.pages[0].drawing, "left out"), "the cover");
            let parts: Vec<String> = named(&document);
            // What is of neither hand stays, and what is of the one hand.
            let of_wraps = |titles: &[String]| {
                let wraps = titles.iter().filter(|title| !title.starts_with("Plate") && !title.contains(gone));
                wraps.cloned().collect::<Vec<_>>()
            };
            assert_eq!(of_wraps(&parts), of_wraps(&all));
            assert!(!parts.iter().any(|title| title.contains(gone)), "{parts:?}");
            for (page, is_template) in document.pages.iter().zip(templates) {
                let texts: Vec<&str> = page.drawing.texts().map(|text| text.content.as_str()).collect();
                let noted = texts.join(" ").contains(&format!("marks that end in {gone} are in another pack."));
                assert_eq!(noted, is_template, "{}", page.title);
            }
        }
    }
}

#[test]
fn both_wraps_of_a_pair_share_a_page_where_they_fit() {
    let sheets = reckoned_sheets();
    let of = |member: &str| sheets.wraps.iter().find(|wrap| wrap.member == member && wrap.end == End::From);
    let wraps = ["web_brace.L", "web_brace.R"].map(|member| of(member).expect("in the document"));
    let bytes = wraps_pdf(&sheets, &wraps, &issue(Paper::A4, Status::Issued)).expect("renders");
    assert_eq!(lopdf::Document::load_mem(&bytes).expect("readable").get_pages().len(), 1);
}

/// The cut of a tube of 25 mm at 28 degrees on one of its own size reaches 25 / sin 28 = 53 mm along it: two such wraps with their figures
/// are higher than A4, and as broad as half of it.
#[test]
fn two_tall_wraps_of_a_thin_tube_stand_side_by_side_with_a_line_between_them() {
    let ends = [("web.L", 90.0), ("web.R", 270.0)];
    let wraps = ends.map(|(member, clock)| cope(member, End::To, [25.0, 1.5], 25.0, 28.0, clock));
    for paper in [Paper::A4, Paper::Letter] {
        let issue = issue(paper, Status::Issued);
        let bytes = wraps_pdf(&Sheets::default(), &[&wraps[0], &wraps[1]], &issue).expect("renders");
        assert_eq!(lopdf::Document::load_mem(&bytes).expect("readable").get_pages().len(), 1, "{paper:?}");
        let furniture = furniture(&issue).expect("compiled in");
        let [page] = <[Content; 1]>::try_from(wraps::laid_out(&Sheets::default(), &wraps, furniture).expect("renders"))
            .unwrap_or_else(|pages| panic!("{} pages", pages.len()));
        let middle = furniture.content_area().x + (furniture.content_area().width - 13.0) / 2.0;
        let divider = |path: &crate::drawing::Path| path.points().all(|[x, _]| (x - middle).abs() < 1e-6);
        assert!(page.drawing.paths().any(divider));
        for (member, side) in [("web.L", -1.0), ("web.R", 1.0)] {
            let own: Vec<_> = page.drawing.texts().filter(|text| text.content.contains(member)).collect();
            assert!(own.len() >= 2 && own.iter().all(|text| (text.at[0] - middle) * side > 0.0), "{member}");
        }
    }
    let thick = ends.map(|(member, clock)| cope(member, End::To, [40.0, 2.0], 40.0, 30.0, clock));
    let bytes =
        wraps_pdf(&Sheets::default(), &[&thick[0], &thick[1]], &issue(Paper::A4, Status::Issued)).expect("renders");
    assert_eq!(lopdf::Document::load_mem(&bytes).expect("readable").get_pages().len(), 2);
}

#[test]
fn edges_of_a_hole_strip_are_set_by_a_tape_in_inches_and_its_holes_stay() {
    let step = Units::InchFraction.tape();
    for strip in &reckoned_sheets().strips {
        let set = strip.set_to(step);
        for edge in [set.lower, set.upper] {
            assert!((edge / step - (edge / step).round()).abs() < 1e-9, "{edge}");
        }
        assert!(set.lower <= strip.lower && set.upper >= strip.upper && set.upper - strip.upper < step);
        assert!((set.height - (set.upper - set.lower)).abs() < 1e-9);
        for hole in &set.holes {
            assert!((set.lower + hole.at[1] - hole.from_datum).abs() < 1e-5);
        }
    }
}

/// A bar that goes on either side has the index lines of the mark that it was cut by, half a turn from those of the other.
#[test]
fn a_hole_strip_says_where_the_long_points_of_its_part_lie() {
    let sheets = demo_sheets();
    let pages = document(&sheets, &issue(Paper::A4, Status::Issued)).expect("renders").0.pages;
    let long_point = |mark: &str, end: End| {
        let wrap = sheets.wraps.iter().find(|wrap| wrap.member == mark && wrap.end == end).expect("it has a wrap");
        wrap.long_point.expect("it is not square").clock_deg
    };
    for mark in ["door_bar.L", "door_bar.R"] {
        let [first, second] = [End::From, End::To].map(|end| long_point(mark, end));
        let words: Vec<&str> =
            page_of(&pages, &format!("Holes {mark}")).texts().map(|text| text.content.as_str()).collect();
        let wanted = format!("the long point of end 1 lies at {first:.1} deg, that of end 2 at {second:.1} deg.");
        assert!(words.join(" ").contains(&wanted), "{mark}: {wanted} {words:?}");
    }
    let apart = long_point("door_bar.L", End::From) - long_point("door_bar.R", End::From);
    assert!((apart.abs() - 180.0).abs() < 10.0, "{apart}");
}
