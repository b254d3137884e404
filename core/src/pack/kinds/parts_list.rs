//! The parts list: one row a part number, with what it is made of and where it goes.
use super::changes::Scope;
use super::cover::contents_of;
use super::cut_sheet::say_as_measured;
use crate::drawing::Face;
use crate::pack::layout::barred;
use crate::pack::layout::figures::{Figures, members};
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::layout::furniture::Furniture;
use crate::pack::{Content, RenderError};
use crate::part::{PartKind, is_as_measured};
use crate::sheets::{PartRow, Sheets};

fn columns() -> [Column; 7] {
    [
        Column { face: Face::Bold, ..Column::numbers("part number", 0.15) },
        Column::words("section, mm", 0.17),
        Column::words("material", 0.28),
        Column::figures("quantity", 0.08),
        Column::figures("blank each, mm", 0.12),
        Column::figures("bends", 0.08),
        Column::figures("mass each, kg", 0.12),
    ]
}

/// The pages of the parts list; none when the parts are not numbered.
pub(in crate::pack) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let parts = shown(sheets, furniture);
    if parts.is_empty() {
        return Ok(Vec::new());
    }
    let mut flow = Flow::new(furniture, furniture.content_area(), "Parts list");
    flow.paragraph(
        "Parts of one number are equal: any of them goes in any of the places listed. Count them against this list before you start. Blank: length to saw from the bar.",
    );
    say_as_measured(&mut flow, sheets);
    flow.skip(1.0);
    flow.start_table(&columns());
    for part in &parts {
        let marks: Vec<&str> = part.members.iter().map(String::as_str).collect();
        let mut note = barred::of_parts(&marks, furniture);
        note.push(places(sheets, part, furniture.figures()));
        flow.row(&cells(part, furniture.figures()), &note.join("\n"));
    }
    flow.end_table();
    let count: usize = parts.iter().map(|part| part.quantity).sum();
    flow.total(&format!("{count} parts of {} numbers", parts.len()));
    Ok(contents_of(flow, "Parts list"))
}

/// The rows of a pack, which count in a pack of what changed only what is made.
fn shown(sheets: &Sheets, furniture: Furniture) -> Vec<PartRow> {
    let scope = Scope::of(furniture.issue);
    let rows = sheets.parts.iter().map(|part| {
        let members: Vec<String> = part.members.iter().filter(|member| scope.makes(member)).cloned().collect();
        let quantity = if scope.is_part() { members.len() } else { part.quantity };
        PartRow { members, quantity, ..part.clone() }
    });
    rows.filter(|part| part.quantity > 0).collect()
}

fn cells(part: &PartRow, figures: Figures) -> [String; 7] {
    [
        part.number.clone(),
        figures.size(&part.size),
        part.material.clone(),
        part.quantity.to_string(),
        match (part.kind, part.blank) {
            (PartKind::Plate, _) => String::new(),
            (PartKind::Tube, blank) => blank.map_or_else(|| "made".to_owned(), |mm| figures.bare(mm)),
        },
        if part.kind == PartKind::Tube { part.bends.to_string() } else { String::new() },
        figures.mass(part.mass_kg),
    ]
}

fn places(sheets: &Sheets, part: &PartRow, figures: Figures) -> String {
    let has = |id: &str| part.members.iter().any(|member| member == id);
    let both_hands =
        part.members.iter().any(|member| member.strip_suffix(".L").is_some_and(|stem| has(&format!("{stem}.R"))));
    let places = members(&part.members);
    let hands = if both_hands { "; one part for left and right" } else { "" };
    let measured = if part.members.iter().all(|member| sheets.stands(member)) {
        format!("; {}", figures.words.as_measured.stands())
    } else if is_as_measured(&part.number) {
        format!("; {}", figures.words.as_measured.to_values())
    } else {
        String::new()
    };
    format!("{places}{hands}{measured}")
}
