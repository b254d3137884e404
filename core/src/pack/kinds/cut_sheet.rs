//! The cut sheet: every member with its lengths, its two cuts and its mass.
use super::about;
use super::changes::Scope;
use super::cover::contents_of;
use super::pairs::mirror_image;
use crate::pack::layout::barred;
use crate::pack::layout::figures::{Figures, members};
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::trimmed::both_ends;
use crate::pack::{Content, RenderError};
use crate::part::is_as_measured;
use crate::sheets::{CutRow, EndSummary, MassSheet, Sheets};

fn columns() -> [Column; 11] {
    [
        Column::words("no.", 0.035),
        Column::marks("mark", 0.155),
        Column::numbers("part number", 0.107),
        Column::words("section, mm", 0.13),
        Column::figures("overall, mm", 0.094),
        Column::figures("centreline, mm", 0.094),
        Column::figures("short, mm", 0.094),
        Column::figures("blank, mm", 0.094),
        Column::figures("clock between ends, deg", 0.077),
        Column::figures("bends", 0.055),
        Column::figures("mass, kg", 0.065),
    ]
}

/// The pages of the cut sheet.
pub(in crate::pack) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let mut flow = Flow::new(furniture, furniture.content_area(), "Cut sheet");
    flow.paragraph(
        "Overall: long point to long point as finished. Centreline: between the cuts along the centreline. Short: between the points of the two cuts nearest the middle, on the outside. Blank: length to saw from the bar.",
    );
    say_as_measured(&mut flow, sheets);
    flow.skip(1.0);
    let scope = Scope::of(furniture.issue);
    let mut columns = columns();
    if scope.is_part() {
        // The rows before keep their numbers: those of this pack go by their marks.
        columns[0].title = "".into();
    }
    flow.start_table(&columns);
    let rows = sheets.cut_sheet.rows.iter().enumerate().filter(|(_, row)| scope.shows(&row.member));
    let (mut tubes, mut kg) = (0_usize, 0.0);
    for (index, row) in rows {
        tubes += 1;
        kg += row.mass_kg;
        let number = if scope.is_part() { String::new() } else { (index + 1).to_string() };
        let mut note = barred::of_part(&row.member, furniture);
        note.push(ends(sheets, row, furniture));
        let mut note = note.join("; ");
        if scope.retells(&row.member) {
            note.push_str("; same part as before, only the step is another");
        }
        flow.row(&cells(number, row, furniture.figures()), &note);
    }
    flow.end_table();
    flow.total(&format!("Total: {tubes} tubes, {} kg as finished", furniture.figures().mass(kg)));
    if !sheets.mass.joints.is_empty() {
        whole_frame(&mut flow, &sheets.mass);
    }
    Ok(contents_of(flow, "Cut sheet"))
}

/// What is said in a list of a part that is there already, because something was measured on it.
pub(in crate::pack) const STANDS: &str = "made already, stands as measured: saw nothing";

/// What the sign after some part numbers means, where there are such parts.
pub(in crate::pack) fn say_as_measured(flow: &mut Flow, sheets: &Sheets) {
    if sheets.parts.iter().any(|part| is_as_measured(&part.number)) {
        flow.paragraph(
            "A part number with /M is that of a part made to what was measured on this kit: it is not the revision's part of that number, and goes into no other frame.",
        );
    }
    if !sheets.measured.is_empty() {
        let made: Vec<String> = sheets.measured.iter().map(|part| part.member.clone()).collect();
        flow.paragraph(&format!(
            "Made already: {}. It was measured, and this pack is fitted to it as it is. Nothing of it is sawn or bent again; its ends are trimmed by the wraps of this pack. Its lengths here are those of a tube bent to the measured figures: never check them along the one that you have. Write its number from this list on it in place of the one that it has.",
            members(&made)
        ));
    }
}

fn cells(number: String, row: &CutRow, figures: Figures) -> [String; 11] {
    [
        number,
        row.member.clone(),
        row.part_number.clone(),
        figures.size(row.size),
        figures.bare(row.overall),
        figures.bare(row.centreline),
        figures.bare(row.short),
        row.blank.map_or_else(|| "made".to_owned(), |mm| figures.bare(mm)),
        row.clock_between_ends_deg.map_or_else(|| "none".to_owned(), |deg| figures.bare_clock(deg)),
        row.bends.to_string(),
        figures.mass(row.mass_kg),
    ]
}

fn ends(sheets: &Sheets, row: &CutRow, furniture: Furniture) -> String {
    let mut note = format!(
        "from: {}; to: {}; {}",
        cut(&row.from, furniture.figures()),
        cut(&row.to, furniture.figures()),
        row.material
    );
    if let Some(left) = both_ends(sheets, &row.member, row.leave_long, furniture) {
        note.push_str(&format!("; left long {left}"));
    }
    if sheets.stands(&row.member) {
        note.push_str("; ");
        note.push_str(STANDS);
    } else if is_as_measured(&row.part_number) {
        note.push_str("; as measured");
    }
    if let Some((opposite, _)) = mirror_image(sheets, &row.member) {
        note.push_str(&format!("; handed, mirror image of {opposite}"));
    }
    note
}

/// One end's cut in words, such as `mitre to rail, 40.0 deg` or `cope to main_hoop`.
pub(in crate::pack) fn cut(end: &EndSummary, figures: Figures) -> String {
    let words = figures.cut_and_fits(end.cut, &end.fits);
    match end.mitre_deg {
        Some(degrees) if end.fits.is_empty() => format!("{words} {}", figures.angle(degrees)),
        Some(degrees) => format!("{words}, {}", figures.angle(degrees)),
        None => words,
    }
}

/// Mass, centre of gravity, surface and welds of the whole frame.
fn whole_frame(flow: &mut Flow, whole: &MassSheet) {
    let figures = flow.figures();
    let [x, y, z] = whole.centre_of_gravity.map(|mm| figures.bare(mm));
    flow.skip(2.0);
    flow.heading("The whole frame");
    flow.fact(
        "mass",
        &format!("{} kg of tubes and plates as finished, without weld and paint", figures.tenths(whole.mass_kg)),
    );
    flow.fact(
        "centre of gravity",
        &format!(
            "x {x}, y {y}, z {z} {}: x forward, y left, z up, from the frame's zero, {}",
            figures.unit(),
            about::WHERE
        ),
    );
    let (surface, weld) = (figures.surface(whole.painted_m2), figures.run(whole.weld_length));
    flow.fact("surface to paint", &format!("{surface} outside, what welds cover not taken off"));
    flow.fact("weld", &format!("{weld} in {} joints", whole.joints.len()));
}
