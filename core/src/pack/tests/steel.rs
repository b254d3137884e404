//! What a builder does with steel in hand: where a length on paper begins, and what of the frame is there already.

use super::{demo_revisions, demo_sheets, document, measured_sheets};
use crate::pack::fixture::issue;
use crate::pack::*;
use crate::part::compare::Side;
use crate::render::Page;
use crate::sheets::{BendSheet, Pair, Sheets};

fn pages(sheets: &Sheets) -> Vec<Page> {
    document(sheets, &issue(Paper::A4, Status::Issued)).expect("renders").0.pages
}

/// All words of the pages whose title begins so, in one line.
fn words(pages: &[Page], title: &str) -> String {
    let shown = pages.iter().filter(|page| page.title.starts_with(title));
    shown.flat_map(|page| page.drawing.texts().map(|text| text.content.clone())).collect::<Vec<_>>().join(" ")
}

/// The cells of every row of a bend sheet's table as printed, by the names of their columns.
fn bend_rows(page: &Page, bends: usize) -> Vec<Vec<String>> {
    let mut rows: Vec<(f64, Vec<(f64, String)>)> = Vec::new();
    for text in page.drawing.texts() {
        match rows.iter_mut().find(|(y, _)| (*y - text.at[1]).abs() < 1e-6) {
            Some((_, cells)) => cells.push((text.at[0], text.content.clone())),
            None => rows.push((text.at[1], vec![(text.at[0], text.content.clone())])),
        }
    }
    let mut rows: Vec<Vec<String>> = rows
        .into_iter()
        .map(|(_, mut cells)| {
            cells.sort_by(|a, b| a.0.total_cmp(&b.0));
            cells.into_iter().map(|(_, cell)| cell).collect()
        })
        .filter(|cells: &Vec<String>| cells.len() > 6 && cells[0].parse::<usize>().is_ok())
        .collect();
    rows.sort_by_key(|cells| cells[0].parse::<usize>().ok());
    assert_eq!(rows.len(), bends, "{}", page.title);
    rows
}

/// The figure in mm that follows some words.
fn figure_after(words: &str, before: &str) -> f64 {
    let (_, rest) = words.split_once(before).unwrap_or_else(|| panic!("{before}: {words}"));
    rest.split_whitespace().next().and_then(|figure| figure.parse().ok()).unwrap_or_else(|| panic!("{before}: {rest}"))
}

/// Whoever feeds a tube from its sawn end has used it up when the last straight is through: straights and arcs are all of the
/// blank. Each printed figure is rounded by half a tenth at most.
#[test]
fn feeds_arcs_and_the_last_straight_add_up_to_the_blank_that_is_sawn() {
    let (revisions, _) = demo_revisions();
    for sheets in &revisions {
        let pages = pages(sheets);
        assert!(sheets.bend_sheets.len() > 1);
        for sheet in &sheets.bend_sheets {
            let title = format!("Bend sheet {}", sheet.member);
            let page = pages.iter().find(|page| page.title == title).expect("a page");
            let rows = bend_rows(page, sheet.rows.len());
            let cell = |row: &[String], column: usize| row[column].parse::<f64>().expect("a figure");
            let said = words(&pages, &title);
            let arcs = |row: &Vec<String>| cell(row, row.len() - 3);
            let made: f64 = rows.iter().map(|row| cell(row, 1) + arcs(row)).sum();
            let sum = made + figure_after(&said, "Straight after the last bend ");
            let blank = figure_after(&said, "blank ");
            let rounding = 0.05 * (2.0 * sheet.rows.len() as f64 + 2.0);
            assert!((sum - blank).abs() <= rounding, "{}: {sum} of {blank}", sheet.member);
            // The first bend starts where the first feed ends.
            let starts = cell(&rows[0], rows[0].len() - 2);
            assert!((cell(&rows[0], 1) - starts).abs() < 1e-9, "{}: {:?}", sheet.member, rows[0]);
            let one_sentence = "count from the ends of the blank as sawn, what is left long there included";
            assert_eq!(said.matches(one_sentence).count(), 1, "{said}");
        }
    }
}

#[test]
fn sheets_that_go_by_a_measured_value_say_when_it_was_told() {
    let mut issue = issue(Paper::A4, Status::Issued);
    issue.measured_on = [("hoop_spread".to_owned(), "2026-11-24".to_owned())].into();
    let pages = document(&measured_sheets(), &issue).expect("renders").0.pages;
    let bend_sheet = words(&pages, "Bend sheet main_hoop");
    assert!(bend_sheet.contains("hoop_spread 1124 mm, 1120 as designed, told on 2026-11-24"), "{bend_sheet}");
    let fit_up = words(&pages, "Fit-up order");
    assert!(fit_up.contains("1124 mm (1120 as designed, told on 2026-11-24)"), "{fit_up}");
}

#[test]
fn a_part_that_was_measured_is_not_ordered_bent_or_measured_again() {
    let sheets = measured_sheets();
    let pages = pages(&sheets);
    let bend_sheet = words(&pages, "Bend sheet main_hoop");
    for said in ["stands as measured", "hoop_spread 1124 mm, 1120 as designed", "saw and bend nothing of it"] {
        assert!(bend_sheet.contains(said), "{said}: {bend_sheet}");
    }
    for told in ["to saw from the bar", "set on bender", "mark: bend starts"] {
        assert!(!bend_sheet.contains(told), "{told}: {bend_sheet}");
    }
    // The other hoop was not measured.
    assert!(words(&pages, "Bend sheet front_hoop").contains("to saw from the bar"));
    let number = sheets.cut_sheet.rows.iter().find(|row| row.member == "main_hoop").expect("a row").part_number.clone();
    assert!(number.ends_with("/M"), "{number}");
    let ordered: Vec<&str> =
        sheets.stock.iter().flat_map(|section| &section.parts).map(|part| part.number.as_str()).collect();
    assert!(!ordered.contains(&number.as_str()), "{ordered:?}");
    // A sill meets the hoop and is not cut yet.
    let sill = sheets.cut_sheet.rows.iter().find(|row| row.member == "sill.L").expect("a row");
    assert!(sill.part_number.ends_with("/M") && ordered.contains(&sill.part_number.as_str()), "{ordered:?}");
    assert!(!words(&pages, "Stock plan").contains(&number));
    for list in ["Cut sheet", "Parts list"] {
        assert!(words(&pages, list).contains("stands as measured: saw nothing"), "{list}");
    }
    let wrap = words(&pages, "Wrap main_hoop");
    assert!(wrap.contains("where bend 4 ends on the tube itself"), "{wrap}");
    assert!(!wrap.contains("where bend 4 ends, at") && !wrap.contains("where bend 1 starts, at"), "{wrap}");
    let fit_up = words(&pages, "Fit-up order");
    assert!(!fit_up.contains("Measure and send in, hoop_spread"));
    assert!(fit_up.contains("Measured, hoop_spread: 1124 mm"));
    // The height was not measured: it is still asked for.
    assert!(fit_up.contains("Measure and send in, hoop_height"));
}

/// What tells a left part from a right one by a hole names the place where the hole strip has it.
#[test]
fn a_hole_is_given_from_one_datum_on_every_page() {
    let sheets = demo_sheets();
    let mut told = 0;
    let is_tube = |mark: &str| sheets.strips.iter().any(|strip| strip.member == mark);
    let tell_left = |pair: &Pair| pair.tell.as_ref().map_or_else(String::new, |tell| say::hand(tell, Side::Left));
    let by_a_hole = |left: &str, tell: &str| tell.contains(" mm hole ") && is_tube(left);
    for pair in sheets.pairs.iter().filter(|pair| by_a_hole(&pair.left, &tell_left(pair))) {
        told += 1;
        let strips = sheets.strips.iter().filter(|strip| strip.member == pair.left).flat_map(|strip| &strip.holes);
        let places: Vec<String> =
            strips.map(|hole| format!("hole {:.1} mm from the long point of end 1", hole.from_datum)).collect();
        assert!(
            !places.is_empty() && places.iter().any(|place| tell_left(pair).contains(place)),
            "{}",
            tell_left(pair)
        );
    }
    assert!(told > 0);
    let pages = pages(&sheets);
    let whole = words(&pages, "");
    for node in ["start of the centreline", "end of the centreline"] {
        assert!(!whole.contains(node), "{node}");
    }
    // What is called the centreline of a bent tube has one length on both sheets.
    for sheet in &sheets.bend_sheets {
        let row = sheets.cut_sheet.rows.iter().find(|row| row.member == sheet.member).expect("a row");
        assert!((row.centreline - sheet.developed).abs() < 1e-5, "{}", sheet.member);
    }
}

/// A foot at the left goes up, over to the right and then forward: looked at along the tube with forward as the line at 0 degrees,
/// left is at 90 (up x forward), so that the first bend goes towards 270. Running right, up is at 90 and forward still at 0: the
/// second bend goes towards 0. Three right angles (closed form).
#[test]
fn the_inside_of_every_bend_has_its_clock_angle() {
    let text = r#"{"format": "matchmark-design/1", "name": "Hook",
        "materials": {"steel": {"name": "S235", "density": 7850}},
        "sections": {"tube": {"round": {"od": 40, "wall": 2}, "material": "steel"}},
        "points": {"a": [0, 500, 0], "b": [0, 500, 600], "c": [0, -100, 600], "d": [400, -100, 600]},
        "members": [{"id": "hook", "section": "tube", "path": ["a", "b", "c", "d"], "radius": 100, "ends": {"from": "square", "to": "square"}}]}"#;
    let mut evaluation = crate::evaluate(text);
    evaluation.number(None);
    let sheets = evaluation.sheets.unwrap_or_else(|| panic!("{:?}", evaluation.findings));
    let clocks = |sheet: &BendSheet| {
        let sheet = serde_json::to_value(sheet).expect("JSON");
        let rows = sheet["rows"].as_array().expect("rows").clone();
        rows.iter().map(|row| row["inside_deg"].as_f64().expect("an angle")).collect::<Vec<_>>()
    };
    assert_eq!(clocks(&sheets.bend_sheets[0]), [270.0, 0.0]);
    let page = words(&pages(&sheets), "Bend sheet hook");
    // A quarter of a turn of 40 mm, the shorter way: 40 pi / 4 = 31.4.
    for said in ["inside of bend 1 at 270.0 deg", "31.4 mm round the tube from 0 towards 270"] {
        assert!(page.contains(said), "{said}: {page}");
    }
    // The plane turns by a quarter on the tube, which a bender that stands still sees as the tube turning back.
    assert!(page.contains("turn the tube itself the other way"), "{page}");
    let hoop = words(&pages(&demo_sheets()), "Bend sheet main_hoop");
    assert!(hoop.contains("inside of bend 1 at 270.0 deg"), "{hoop}");
}

#[test]
fn the_page_on_wraps_saws_blanks_as_the_stock_plan_does() {
    let sheets = demo_sheets();
    let is_sloped = |part: &crate::sheets::StockPart| part.from.is_some() || part.to.is_some();
    assert!(sheets.stock.iter().flat_map(|section| &section.parts).any(is_sloped), "the plan saws mitres");
    let pages = pages(&sheets);
    let how = words(&pages, "How to print");
    assert!(!how.contains("length on the cut sheet, square."), "{how}");
    for said in
        ["square where the stock plan names no angle", "An end that the stock plan saws at an angle is finished"]
    {
        assert!(how.contains(said), "{said}: {how}");
    }
}
