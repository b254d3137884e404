//! Bend sheets: one page for each bent member.

mod view;
use super::cover::contents_from;
use crate::drawing::Area;
use crate::pack::layout::barred;
use crate::pack::layout::figures::Figures;
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::trimmed::both_ends;
use crate::pack::{Content, OnPage, RenderError, SheetKind};
use crate::sheets::{BendSheet, MeasuredPart, Sheets};

fn columns(figures: Figures) -> [Column; 10] {
    let (say, unit) = (&figures.words.bend_sheet, figures.unit());
    [
        Column::words(say.head_bend(), 0.06),
        Column::figures(say.head_feed(unit), 0.1),
        Column::figures(say.head_rotate(), 0.1),
        Column::figures(say.head_inside(), 0.11),
        Column::figures(say.head_angle(), 0.09),
        Column::figures(say.head_set(), 0.11),
        Column::figures(say.head_radius(unit), 0.12),
        Column::figures(say.head_arc(unit), 0.09),
        Column::figures(say.head_start(unit), 0.11),
        Column::figures(say.head_end(unit), 0.11),
    ]
}

fn columns_as_it_stands(figures: Figures) -> [Column; 4] {
    let (say, unit) = (&figures.words.bend_sheet, figures.unit());
    [
        Column::words(say.head_bend(), 0.1),
        Column::figures(say.head_inside(), 0.3),
        Column::figures(say.head_angle(), 0.3),
        Column::figures(say.head_radius(unit), 0.3),
    ]
}

/// Least height of the drawing below the schedule, mm.
const LEAST_VIEW: f64 = 70.0;

/// A page for each bent member.
pub(in crate::pack) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let mut contents = Vec::new();
    for sheet in &sheets.bend_sheets {
        let title = furniture.words.bend_sheet.title(&sheet.member);
        let pages = sheet_pages(sheets, sheet, &title, furniture);
        let on = OnPage::of_parts(SheetKind::BendSheet, vec![sheet.member.clone()], title);
        contents.extend(contents_from(pages, &on));
    }
    Ok(contents)
}

fn sheet_pages(sheets: &Sheets, sheet: &BendSheet, title: &str, furniture: Furniture) -> Vec<crate::drawing::Drawing> {
    let (area, say) = (furniture.content_area(), &furniture.words.bend_sheet);
    let mut flow = Flow::new(furniture, area, title);
    for barred in barred::of_part(&sheet.member, furniture) {
        flow.fact(say.caption_notice(), &barred);
    }
    flow.fact(say.caption_section(), &furniture.figures().size(sheet.size));
    match sheets.measured.iter().find(|part| part.member == sheet.member) {
        Some(part) => as_it_stands(&mut flow, sheets, sheet, part, furniture),
        None => to_be_made(&mut flow, sheets, sheet, furniture),
    }
    flow.need(LEAST_VIEW);
    let top = flow.top() - 2.0;
    let free = Area { height: top - area.y, ..area };
    let drawing = view::draw(sheet, free, furniture);
    flow.page().append(drawing);
    flow.finish()
}

/// A part that is sawn and bent by this sheet.
fn to_be_made(flow: &mut Flow, sheets: &Sheets, sheet: &BendSheet, furniture: Furniture) {
    let (figures, say) = (flow.figures(), &furniture.words.bend_sheet);
    flow.fact(say.caption_blank(), &say.blank(figures.length(sheet.blank)));
    flow.fact(say.caption_developed(), &say.developed(figures.length(sheet.developed)));
    left_long(flow, sheets, sheet, furniture);
    let springback = sheet.springback_deg_per_90.map(|degrees| say.springback(figures.angle(degrees)));
    flow.fact(say.caption_springback(), springback.as_deref().unwrap_or(say.springback_unknown()));
    flow.fact(say.caption_plane(), if sheet.planar { say.one_plane() } else { say.several_planes() });
    if let Some(first) = sheet.rows.first() {
        let inside = match sheet.circumference {
            Some(round) => figures.round_from_zero(first.inside_deg, first.inside_deg / 360.0 * round, round),
            None => figures.clock(first.inside_deg),
        };
        flow.fact(say.caption_index_line(), &say.index_line(inside));
    }
    check_after(flow, sheet, say.caption_check_bent());
    flow.skip(2.0);
    flow.start_table(&columns(figures));
    for (index, row) in sheet.rows.iter().enumerate() {
        let mark = sheet.marks.iter().find(|mark| mark.bend == index + 1);
        let or_blank = |value: Option<f64>| value.map_or_else(String::new, |mm| figures.bare(mm));
        flow.row(
            &[
                (index + 1).to_string(),
                figures.bare(row.feed),
                figures.tenths(row.rotate_deg),
                figures.bare_clock(row.inside_deg),
                figures.tenths(row.bend_deg),
                row.set_deg.map_or_else(|| say.set_by_trial().to_owned(), |set| figures.tenths(set)),
                figures.bare(row.radius),
                figures.bare(row.arc),
                or_blank(mark.map(|mark| mark.start)),
                or_blank(mark.map(|mark| mark.end)),
            ],
            "",
        );
    }
    flow.end_table();
    flow.paragraph(&say.last_straight(figures.length(sheet.last_straight)));
    flow.paragraph(say.check_before_fitting());
}

/// A part that is there already: what was measured, and how its ends are found on it.
fn as_it_stands(flow: &mut Flow, sheets: &Sheets, sheet: &BendSheet, part: &MeasuredPart, furniture: Furniture) {
    let (figures, say) = (flow.figures(), &furniture.words.bend_sheet);
    let values = part.values.iter().map(|value| {
        let (measured, nominal) = (figures.short_length(value.measured), figures.short(value.nominal));
        match furniture.issue.measured_on.get(&value.gauge) {
            Some(day) => say.value_told(&value.gauge, measured, nominal, day),
            None => say.value(&value.gauge, measured, nominal),
        }
    });
    flow.fact(say.caption_made(), &say.made(values.collect::<Vec<_>>().join("; ")));
    flow.fact(say.caption_to_do(), say.to_do());
    left_long(flow, sheets, sheet, furniture);
    check_after(flow, sheet, say.caption_check_standing());
    flow.skip(2.0);
    flow.start_table(&columns_as_it_stands(figures));
    for (index, row) in sheet.rows.iter().enumerate() {
        let inside = figures.bare_clock(row.inside_deg);
        flow.row(&[(index + 1).to_string(), inside, figures.tenths(row.bend_deg), figures.bare(row.radius)], "");
    }
    flow.end_table();
    flow.paragraph(say.marks_on_tube());
    flow.paragraph(say.of_other_revision());
}

fn left_long(flow: &mut Flow, sheets: &Sheets, sheet: &BendSheet, furniture: Furniture) {
    let say = &furniture.words.bend_sheet;
    let long = both_ends(sheets, &sheet.member, sheet.leave_long, furniture);
    flow.fact(say.caption_left_long(), long.as_deref().unwrap_or(say.nothing_long()));
}

fn check_after(flow: &mut Flow, sheet: &BendSheet, caption: &str) {
    let figures = flow.figures();
    let [spread, rise] = [sheet.end_to_end, sheet.rise].map(|mm| figures.length(mm));
    flow.fact(caption, &figures.words.bend_sheet.check(spread, rise));
}
