//! The cut sheet: every member with its lengths, its two cuts and its mass.

use super::cover::contents_of;
use super::figures::{angle, clock, mass, members, short_length, tenths};
use super::flow::{Column, Flow};
use super::furniture::Furniture;
use super::{Content, RenderError};
use crate::drawing::{Face, Lettering};
use crate::sheets::{CutRow, EndSummary, Sheets};

const COLUMNS: [Column; 10] = [
    Column::words("no.", 0.05),
    Column::marks("part", 0.22),
    Column::words("section, mm", 0.11),
    Column::figures("overall, mm", 0.1),
    Column::figures("centreline, mm", 0.1),
    Column::figures("short, mm", 0.1),
    Column::figures("blank, mm", 0.1),
    Column::figures("clock between ends, deg", 0.09),
    Column::figures("bends", 0.055),
    Column::figures("mass, kg", 0.075),
];

/// The pages of the cut sheet.
pub(super) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let area = furniture.content_area();
    let mut flow = Flow::new(furniture.letters, area, "Cut sheet");
    flow.paragraph(
        "Overall: long point to long point as finished. Centreline: between the cuts along the centreline. Short: between the points of the two cuts nearest the middle, on the outside. Blank: length to saw from the bar.",
    );
    flow.skip(1.0);
    flow.start_table(&COLUMNS);
    for (index, row) in sheets.cut_sheet.rows.iter().enumerate() {
        flow.row(&cells(index + 1, row), &ends(row));
    }
    flow.end_table();
    flow.need(8.0);
    let parts = sheets.cut_sheet.rows.len();
    flow.line(
        &format!("Total: {parts} parts, {} kg as finished", mass(sheets.cut_sheet.total_mass_kg)),
        area.x,
        Lettering::Heading,
        Face::Bold,
    );
    Ok(contents_of(flow, "Cut sheet"))
}

fn cells(number: usize, row: &CutRow) -> [String; 10] {
    [
        number.to_string(),
        row.member.clone(),
        row.size.clone(),
        tenths(row.overall),
        tenths(row.centreline),
        tenths(row.short),
        tenths(row.blank),
        row.clock_between_ends_deg.map_or_else(|| "none".to_owned(), |deg| clock(deg).replace(" deg", "")),
        row.bends.to_string(),
        mass(row.mass_kg),
    ]
}

fn ends(row: &CutRow) -> String {
    let mut note = format!("from: {}; to: {}; {}", cut(&row.from), cut(&row.to), row.material);
    let [from, to] = row.leave_long;
    if from > 0.0 || to > 0.0 {
        note.push_str(&format!("; left long {} mm at from, {} mm at to", short_length(from), short_length(to)));
    }
    note
}

/// One end's cut in words, such as `mitre 40.0 deg` or `cope to main_hoop`.
pub(super) fn cut(end: &EndSummary) -> String {
    let mut words = end.cut.clone();
    if let Some(degrees) = end.mitre_deg {
        words.push_str(&format!(" {}", angle(degrees)));
    }
    if !end.fits.is_empty() {
        words.push_str(&format!(" to {}", members(&end.fits)));
    }
    words
}
