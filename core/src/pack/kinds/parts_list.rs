//! The parts list: one row a part number, with what it is made of and where it goes.
use super::changes::Scope;
use super::cover::contents_of;
use super::cut_sheet::say_as_measured;
use crate::drawing::Weight;
use crate::pack::layout::barred;
use crate::pack::layout::figures::{Figures, members};
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::layout::furniture::Furniture;
use crate::pack::{Content, OnPage, RenderError, SheetKind};
use crate::part::{PartKind, is_as_measured};
use crate::sheets::{PartRow, Sheets};

fn columns(figures: Figures) -> [Column; 7] {
    let (say, unit) = (&figures.words.parts_list, figures.unit());
    [
        Column { face: Weight::Bold, ..Column::numbers(say.head_number(), 0.15) },
        Column::words(say.head_section(unit), 0.17),
        Column::words(say.head_material(), 0.28),
        Column::figures(say.head_quantity(), 0.08),
        Column::figures(say.head_blank(unit), 0.12),
        Column::figures(say.head_bends(), 0.08),
        Column::figures(say.head_mass(), 0.12),
    ]
}

/// The pages of the parts list; none when the parts are not numbered.
pub(in crate::pack) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let parts = shown(sheets, furniture);
    if parts.is_empty() {
        return Ok(Vec::new());
    }
    let (title, say) = (furniture.words.kinds.parts_list(), &furniture.words.parts_list);
    let mut flow = Flow::new(furniture, furniture.content_area(), title);
    flow.paragraph(say.equal_parts());
    say_as_measured(&mut flow, sheets);
    flow.skip(1.0);
    flow.start_table(&columns(furniture.figures()));
    for part in &parts {
        let marks: Vec<&str> = part.members.iter().map(String::as_str).collect();
        let mut note = barred::of_parts(&marks, furniture);
        note.push(places(sheets, part, furniture.figures()));
        flow.row(&cells(part, furniture.figures()), &note.join("\n"));
    }
    flow.end_table();
    let count: usize = parts.iter().map(|part| part.quantity).sum();
    flow.total(&match parts.len() {
        1 => say.of_one_number(count, count),
        numbers => say.total(count, numbers),
    });
    Ok(contents_of(flow, OnPage::of_frame(SheetKind::PartsList, title)))
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
        figures.part_size(part.size),
        part.material.clone(),
        part.quantity.to_string(),
        match (part.kind, part.blank) {
            (PartKind::Plate, _) => String::new(),
            (PartKind::Tube, blank) => {
                blank.map_or_else(|| figures.words.parts_list.made().to_owned(), |mm| figures.bare(mm))
            }
        },
        if part.kind == PartKind::Tube { part.bends.to_string() } else { String::new() },
        figures.mass(part.mass_kg),
    ]
}

fn places(sheets: &Sheets, part: &PartRow, figures: Figures) -> String {
    let (say, as_measured) = (&figures.words.parts_list, &figures.words.as_measured);
    let has = |id: &str| part.members.iter().any(|member| member == id);
    let both_hands =
        part.members.iter().any(|member| member.strip_suffix(".L").is_some_and(|stem| has(&format!("{stem}.R"))));
    let hands = both_hands.then(|| say.both_hands());
    let measured = if part.members.iter().all(|member| sheets.stands(member)) {
        Some(as_measured.stands())
    } else {
        is_as_measured(&part.number).then(|| as_measured.to_values())
    };
    let mut said = vec![members(&part.members)];
    said.extend([hands, measured].into_iter().flatten().map(str::to_owned));
    said.join("; ")
}
