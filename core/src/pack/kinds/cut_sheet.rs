//! The cut sheet: every member with its lengths, its two cuts and its mass.
use super::changes::Scope;
use super::cover::contents_of;
use super::pairs::mirror_image;
use crate::pack::layout::barred;
use crate::pack::layout::figures::{Figures, members};
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::trimmed::both_ends;
use crate::pack::{Content, OnPage, RenderError, SheetKind};
use crate::part::is_as_measured;
use crate::sheets::{CutRow, EndSummary, MassSheet, Sheets};

fn columns(figures: Figures) -> [Column; 11] {
    let (say, unit) = (&figures.words.cut_sheet, figures.unit());
    [
        Column::words(say.head_number(), 0.035),
        Column::marks(say.head_mark(), 0.155),
        Column::numbers(say.head_part_number(), 0.107),
        Column::words(say.head_section(unit), 0.13),
        Column::figures(say.head_overall(unit), 0.094),
        Column::figures(say.head_centreline(unit), 0.094),
        Column::figures(say.head_short(unit), 0.094),
        Column::figures(say.head_blank(unit), 0.094),
        Column::figures(say.head_clock(), 0.077),
        Column::figures(say.head_bends(), 0.055),
        Column::figures(say.head_mass(), 0.065),
    ]
}

/// The pages of the cut sheet.
pub(in crate::pack) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let (say, title, figures) = (&furniture.words.cut_sheet, furniture.words.kinds.cut_sheet(), furniture.figures());
    let mut flow = Flow::new(furniture, furniture.content_area(), title);
    flow.paragraph(say.lengths());
    say_as_measured(&mut flow, sheets);
    flow.skip(1.0);
    let scope = Scope::of(furniture.issue);
    let mut columns = columns(figures);
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
        note.extend(ends(sheets, row, furniture));
        note.extend(scope.retells(&row.member).then(|| say.only_moved().to_owned()));
        flow.row(&cells(number, row, figures), &note.join("; "));
    }
    flow.end_table();
    flow.total(&say.total(tubes, tubes, figures.mass(kg)));
    if !sheets.mass.joints.is_empty() {
        whole_frame(&mut flow, &sheets.mass);
    }
    Ok(contents_of(flow, OnPage::of_frame(SheetKind::CutSheet, title)))
}

/// Whether any part is made to what was measured on the kit.
pub(in crate::pack) fn has_measured(sheets: &Sheets) -> bool {
    sheets.parts.iter().any(|part| is_as_measured(&part.number))
}

/// What the sign after some part numbers means, where there are such parts.
pub(in crate::pack) fn say_as_measured(flow: &mut Flow, sheets: &Sheets) {
    let say = &flow.figures().words.as_measured;
    if has_measured(sheets) {
        flow.paragraph(say.number_with_m());
    }
    if !sheets.measured.is_empty() {
        let made: Vec<String> = sheets.measured.iter().map(|part| part.member.clone()).collect();
        flow.paragraph(&say.made_already(members(&made)));
    }
}

fn cells(number: String, row: &CutRow, figures: Figures) -> [String; 11] {
    let say = &figures.words.cut_sheet;
    [
        number,
        row.member.clone(),
        row.part_number.clone(),
        figures.size(row.size),
        figures.bare(row.overall),
        figures.bare(row.centreline),
        figures.bare(row.short),
        row.blank.map_or_else(|| say.no_blank().to_owned(), |mm| figures.bare(mm)),
        row.clock_between_ends_deg.map_or_else(|| say.no_clock().to_owned(), |deg| figures.bare_clock(deg)),
        row.bends.to_string(),
        figures.mass(row.mass_kg),
    ]
}

/// What stands under a row, a fact each.
fn ends(sheets: &Sheets, row: &CutRow, furniture: Furniture) -> Vec<String> {
    let (figures, say, as_measured) = (furniture.figures(), &furniture.words.cut_sheet, &furniture.words.as_measured);
    let mut facts =
        vec![say.from_end(cut(&row.from, figures)), say.to_end(cut(&row.to, figures)), row.material.clone()];
    facts.extend(both_ends(sheets, &row.member, row.leave_long, furniture).map(|long| say.left_long(long)));
    if sheets.stands(&row.member) {
        facts.push(as_measured.stands().to_owned());
    } else if is_as_measured(&row.part_number) {
        facts.push(as_measured.to_values().to_owned());
    }
    facts.extend(mirror_image(sheets, &row.member).map(|(opposite, _)| say.handed(opposite)));
    facts
}

/// One end's cut in words, such as `mitre to rail, 40.0 deg` or `cope to main_hoop`.
fn cut(end: &EndSummary, figures: Figures) -> String {
    let words = figures.cut_and_fits(end.cut, &end.fits);
    match end.mitre_deg {
        Some(degrees) if end.fits.is_empty() => figures.words.cut_sheet.cut_by(words, figures.angle(degrees)),
        Some(degrees) => figures.words.cut_sheet.cut_to_fit(words, figures.angle(degrees)),
        None => words,
    }
}

/// Mass, centre of gravity, surface and welds of the whole frame.
fn whole_frame(flow: &mut Flow, whole: &MassSheet) {
    let (figures, words) = (flow.figures(), flow.figures().words);
    let say = &words.cut_sheet;
    let [x, y, z] = whole.centre_of_gravity.map(|mm| figures.bare(mm));
    flow.skip(2.0);
    flow.heading(say.heading_frame());
    flow.fact(say.caption_mass(), &say.frame_mass(figures.tenths(whole.mass_kg)));
    flow.fact(say.caption_centre(), &say.centre(x, y, z, figures.unit(), words.kinds.about()));
    flow.fact(say.caption_surface(), &say.surface(figures.surface(whole.painted_m2)));
    let joints = whole.joints.len();
    flow.fact(say.caption_weld(), &say.weld(joints, figures.run(whole.weld_length), joints));
}
