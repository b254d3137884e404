//! The parts list: one row a part number, with what it is made of and where it goes.

use super::cover::contents_of;
use super::figures::{Figures, mass, members};
use super::flow::{Column, Flow};
use super::furniture::Furniture;
use super::{Content, RenderError};
use crate::sheets::{PartRow, Sheets};

const COLUMNS: [Column; 7] = [
    Column::marks("part number", 0.15),
    Column::words("section, mm", 0.17),
    Column::words("material", 0.28),
    Column::figures("quantity", 0.08),
    Column::figures("blank each, mm", 0.12),
    Column::figures("bends", 0.08),
    Column::figures("mass each, kg", 0.12),
];

/// The pages of the parts list; none when the parts are not numbered.
pub(super) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    if sheets.parts.is_empty() {
        return Ok(Vec::new());
    }
    let mut flow = Flow::new(furniture, furniture.content_area(), "Parts list");
    flow.paragraph(
        "Parts of one number are equal: any of them goes in any of the places listed. Count them against this list before you start. Blank: length to saw from the bar.",
    );
    flow.skip(1.0);
    flow.start_table(&COLUMNS);
    for part in &sheets.parts {
        flow.row(&cells(part, furniture.figures()), &places(part));
    }
    flow.end_table();
    let count: usize = sheets.parts.iter().map(|part| part.quantity).sum();
    flow.total(&format!("{count} parts of {} numbers", sheets.parts.len()));
    Ok(contents_of(flow, "Parts list"))
}

fn cells(part: &PartRow, figures: Figures) -> [String; 7] {
    [
        part.number.clone(),
        figures.size(&part.size),
        part.material.clone(),
        part.quantity.to_string(),
        part.blank.map_or_else(String::new, |mm| figures.bare(mm)),
        if part.blank.is_some() { part.bends.to_string() } else { String::new() },
        mass(part.mass_kg),
    ]
}

fn places(part: &PartRow) -> String {
    let has = |id: &str| part.members.iter().any(|member| member == id);
    let both_hands =
        part.members.iter().any(|member| member.strip_suffix(".L").is_some_and(|stem| has(&format!("{stem}.R"))));
    let places = members(&part.members);
    if both_hands { format!("{places}; one part for left and right") } else { places }
}
