//! What single page kinds say and draw.

use super::{PAPERS, document, page_of, reckoned_pages, says};
use crate::drawing::{Drawing, Pen};
use crate::pack::fixture::{issue, reckoned_sheets, sheets};
use crate::pack::*;
use crate::render::Page;

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
fn every_check_dimension_has_two_empty_boxes() {
    let sheets = reckoned_sheets();
    let pages = reckoned_pages(Paper::A4);
    let from = pages.iter().position(|page| page.title == "Check dimensions").expect("a page");
    let boxes =
        pages[from..].iter().take_while(|page| page.title == "Check dimensions").map(|Page { drawing, .. }| {
            drawing.paths().filter(|path| path.pen == Some(Pen::Thin) && path.segments.len() == 5).count()
        });
    assert_eq!(boxes.sum::<usize>(), 2 * sheets.checks.len());
    for words in ["Named by the design", "Width over the feet of the hoop", "Further ones, reckoned from the frame"] {
        assert!(
            pages[from..].iter().any(|page| page.title == "Check dimensions" && says(&page.drawing, words)),
            "{words}"
        );
    }
}

/// In an isometric view a length along x runs down to the left, one along y down to the right, one along z up, each at 30 degrees to the
/// level or upright and shortened by the root of 2 / 3 (ISO 5456-3, clause 5.1).
#[test]
fn a_sketch_joins_the_places_between_which_each_dimension_runs() {
    let sheets = reckoned_sheets();
    let pages = reckoned_pages(Paper::A4);
    let lines: Vec<[[f64; 2]; 2]> = pages
        .iter()
        .filter(|page| page.title == "Check dimensions")
        .flat_map(|page| page.drawing.paths())
        .filter(|path| path.pen == Some(Pen::Edge))
        .filter_map(|path| <[[f64; 2]; 2]>::try_from(path.points().collect::<Vec<_>>()).ok())
        .filter(|[a, b]| (a[1] - b[1]).abs() > 1e-9 || (a[0] - b[0]).abs() < 150.0)
        .collect();
    assert_eq!(lines.len(), sheets.checks.len());
    let shortened = (2.0_f64 / 3.0).sqrt();
    let flat = |[x, y, z]: [f64; 3]| {
        let (sin, cos) = 30.0_f64.to_radians().sin_cos();
        [shortened * cos * (y - x), shortened * (z - sin * (x + y))]
    };
    let spans: Vec<[f64; 2]> = sheets
        .checks
        .iter()
        .map(|check| {
            let [from, to] = [check.from, check.to].map(flat);
            [to[0] - from[0], to[1] - from[1]]
        })
        .collect();
    // One scale for all of them, taken from the longest.
    let longest =
        (0..spans.len()).max_by(|a, b| spans[*a][0].hypot(spans[*a][1]).total_cmp(&spans[*b][0].hypot(spans[*b][1])));
    let longest = longest.expect("a dimension");
    let drawn = |index: usize| [0, 1].map(|axis| lines[index][1][axis] - lines[index][0][axis]);
    let scale = drawn(longest)[0].hypot(drawn(longest)[1]) / spans[longest][0].hypot(spans[longest][1]);
    for (index, span) in spans.iter().enumerate() {
        let [x, y] = drawn(index);
        assert!((x - scale * span[0]).hypot(y - scale * span[1]) < 1e-6, "{}", sheets.checks[index].name);
    }
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
            Furniture { letters: letters().expect("compiled in"), issue: &issue, words: &EN, stop: Stop::NEVER }
                .content_area()
                .width
                / 3_000.0;
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
