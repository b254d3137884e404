//! Bend sheets: one page for each bent member.

mod view;

use super::cover::contents_from;
use super::figures::{angle, tenths};
use super::flow::{Column, Flow};
use super::furniture::Furniture;
use super::trimmed::both_ends;
use super::{Content, RenderError};
use crate::drawing::Area;
use crate::sheets::{BendSheet, Sheets};

const COLUMNS: [Column; 9] = [
    Column::words("bend", 0.08),
    Column::figures("feed, mm", 0.11),
    Column::figures("rotate, deg", 0.11),
    Column::figures("bend, deg", 0.11),
    Column::figures("set on bender, deg", 0.12),
    Column::figures("centreline radius, mm", 0.12),
    Column::figures("arc, mm", 0.11),
    Column::figures("mark: bend starts, mm", 0.12),
    Column::figures("mark: bend ends, mm", 0.12),
];

/// Least height of the drawing below the schedule, mm.
const LEAST_VIEW: f64 = 70.0;

/// A page for each bent member.
pub(super) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let mut contents = Vec::new();
    for sheet in &sheets.bend_sheets {
        let title = format!("Bend sheet {}", sheet.member);
        contents.extend(contents_from(sheet_pages(sheets, sheet, &title, furniture), &title));
    }
    Ok(contents)
}

fn sheet_pages(sheets: &Sheets, sheet: &BendSheet, title: &str, furniture: Furniture) -> Vec<crate::drawing::Drawing> {
    let area = furniture.content_area();
    let mut flow = Flow::new(furniture, area, title);
    let figures = furniture.figures();
    flow.fact("section", &figures.size(&sheet.size));
    flow.fact("blank", &format!("{}, to saw from the bar before bending", figures.length(sheet.blank)));
    flow.fact("developed", &format!("{} along the centreline as finished", figures.length(sheet.developed)));
    let long = both_ends(sheets, &sheet.member, sheet.leave_long, figures);
    flow.fact("left long", &long.unwrap_or_else(|| "nothing".to_owned()));
    flow.fact(
        "springback",
        &sheet.springback_deg_per_90.map_or_else(
            || "not stated by the design: bend a trial piece, measure, and set your bender by it".to_owned(),
            |degrees| format!("{} opened again per 90 deg bent; allowed for in the angle to set", angle(degrees)),
        ),
    );
    flow.fact(
        "plane",
        if sheet.planar {
            "all bends in one plane: check it on a flat table"
        } else {
            "bends in different planes: rotate as listed, right-handed about the direction of travel (clockwise seen from the from end)"
        },
    );
    flow.fact(
        "check after bending",
        &format!(
            "end to end {}, rise {}, between centrelines",
            figures.length(sheet.end_to_end),
            figures.length(sheet.rise)
        ),
    );
    flow.skip(2.0);
    flow.start_table(&COLUMNS);
    for (index, row) in sheet.rows.iter().enumerate() {
        let mark = sheet.marks.iter().find(|mark| mark.bend == index + 1);
        let or_blank = |value: Option<f64>| value.map_or_else(String::new, |mm| figures.bare(mm));
        flow.row(
            &[
                (index + 1).to_string(),
                figures.bare(row.feed),
                tenths(row.rotate_deg),
                tenths(row.bend_deg),
                row.set_deg.map_or_else(|| "by trial".to_owned(), tenths),
                figures.bare(row.radius),
                figures.bare(row.arc),
                or_blank(mark.map(|mark| mark.start)),
                or_blank(mark.map(|mark| mark.end)),
            ],
            "",
        );
    }
    flow.end_table();
    flow.paragraph(&format!(
        "Straight after the last bend {}. Marks are measured along the straight blank from its from end, what is left long included. Angles under \"bend\" are as finished.",
        figures.length(sheet.last_straight)
    ));
    flow.paragraph(
        "A bent part is never true to the millimetre. Check the end to end spread and the rise below, on the centreline between the ends as finished, before anything is trimmed or fitted to it.",
    );
    flow.need(LEAST_VIEW);
    let top = flow.top() - 2.0;
    let free = Area { height: top - area.y, ..area };
    let drawing = view::draw(sheet, free, furniture);
    flow.page().append(drawing);
    flow.finish()
}
