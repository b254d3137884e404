//! Bend sheets: one page for each bent member.

mod view;
use super::cover::contents_from;
use crate::drawing::Area;
use crate::pack::layout::barred;
use crate::pack::layout::figures::Figures;
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::trimmed::both_ends;
use crate::pack::{Content, RenderError};
use crate::sheets::{BendSheet, MeasuredPart, Sheets};

fn columns() -> [Column; 10] {
    [
        Column::words("bend", 0.06),
        Column::figures("feed, mm", 0.1),
        Column::figures("rotate, deg", 0.1),
        Column::figures("inside at clock, deg", 0.11),
        Column::figures("bend, deg", 0.09),
        Column::figures("set on bender, deg", 0.11),
        Column::figures("centreline radius, mm", 0.12),
        Column::figures("arc, mm", 0.09),
        Column::figures("mark: bend starts, mm", 0.11),
        Column::figures("mark: bend ends, mm", 0.11),
    ]
}

fn columns_as_it_stands() -> [Column; 4] {
    [
        Column::words("bend", 0.1),
        Column::figures("inside at clock, deg", 0.3),
        Column::figures("bend, deg", 0.3),
        Column::figures("centreline radius, mm", 0.3),
    ]
}

/// Least height of the drawing below the schedule, mm.
const LEAST_VIEW: f64 = 70.0;

/// A page for each bent member.
pub(in crate::pack) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
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
    for barred in barred::of_part(&sheet.member, furniture) {
        flow.fact("notice", &barred);
    }
    flow.fact("section", &furniture.figures().size(sheet.size));
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
    let figures = flow.figures();
    flow.fact("blank", &format!("{}, to saw from the bar before bending", figures.length(sheet.blank)));
    flow.fact("developed", &format!("{} along the centreline as finished", figures.length(sheet.developed)));
    left_long(flow, sheets, sheet, furniture);
    flow.fact(
        "springback",
        &sheet.springback_deg_per_90.map_or_else(
            || "not stated by the design: bend a trial piece, measure, and set your bender by it".to_owned(),
            |degrees| {
                format!("{} opened again per 90 deg bent; allowed for in the angle to set", figures.angle(degrees))
            },
        ),
    );
    flow.fact(
        "plane",
        if sheet.planar {
            "all bends in one plane: check it on a flat table"
        } else {
            "bends in different planes: \"rotate\" is the turn on the tube from the plane of the bend before to that of the next, clockwise as seen along it from its from end. In a bender that stands still turn the tube itself the other way. Check each bend against the clock angle of its inside before you bend"
        },
    );
    if let Some(first) = sheet.rows.first() {
        flow.fact("index line", &format!("scribe it along the blank first, then mark the inside of bend 1 at {}. The inside is the side that gets shorter: set that line to the middle of the former", round_from_index(sheet, first.inside_deg, figures)));
    }
    check_after(flow, sheet, "check after bending");
    flow.skip(2.0);
    flow.start_table(&columns());
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
                row.set_deg.map_or_else(|| "by trial".to_owned(), |set| figures.tenths(set)),
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
        "Straight after the last bend {}. The first feed, this straight and the marks count from the ends of the blank as sawn, what is left long there included: feeds, arcs and this straight add up to the blank. Angles under \"bend\" are as finished.",
        figures.length(sheet.last_straight)
    ));
    flow.paragraph(
        "A bent part is never true to the millimetre. Check the end to end spread and the rise below, on the centreline between the ends as finished, before anything is trimmed or fitted to it.",
    );
}

/// A part that is there already: what was measured, and how its ends are found on it.
fn as_it_stands(flow: &mut Flow, sheets: &Sheets, sheet: &BendSheet, part: &MeasuredPart, furniture: Furniture) {
    let figures = flow.figures();
    let values = part.values.iter().map(|value| {
        let [is, nominal] = [value.measured, value.nominal].map(|mm| figures.short(mm));
        format!("{} {is} {}, {nominal} as designed{}", value.gauge, figures.unit(), furniture.told_on(&value.gauge))
    });
    flow.fact("made already", &format!("it stands as measured: {}", values.collect::<Vec<_>>().join("; ")));
    flow.fact(
        "to do",
        "saw and bend nothing of it: its blank, feeds and settings were those of the pack that it was made by",
    );
    left_long(flow, sheets, sheet, furniture);
    check_after(flow, sheet, "as it stands");
    flow.skip(2.0);
    flow.start_table(&columns_as_it_stands());
    for (index, row) in sheet.rows.iter().enumerate() {
        let inside = figures.bare_clock(row.inside_deg);
        flow.row(&[(index + 1).to_string(), inside, figures.tenths(row.bend_deg), figures.bare(row.radius)], "");
    }
    flow.end_table();
    flow.paragraph(
        "Its wraps are set out from where its first bend starts and its last bend ends on the tube itself, by the marks that you made before you bent it. Where a mark is gone lay a straight edge along the straight, on the outside of the bend: the bend begins where the tube leaves it. Measure nothing on it along the blank.",
    );
    flow.paragraph(
        "If this part was made to another revision, and the pages on what changed say that it is to be replaced, ask the supplier before you use this page.",
    );
}

fn left_long(flow: &mut Flow, sheets: &Sheets, sheet: &BendSheet, furniture: Furniture) {
    let long = both_ends(sheets, &sheet.member, sheet.leave_long, furniture);
    flow.fact("left long", &long.unwrap_or_else(|| "nothing".to_owned()));
}

fn check_after(flow: &mut Flow, sheet: &BendSheet, caption: &str) {
    let figures = flow.figures();
    let [spread, rise] = [sheet.end_to_end, sheet.rise].map(|mm| figures.length(mm));
    flow.fact(caption, &format!("end to end {spread}, rise {rise}, between centrelines"));
}

/// A clock angle, and on a round tube how far round it lies from the line at 0 degrees, the shorter way.
fn round_from_index(sheet: &BendSheet, degrees: f64, figures: Figures) -> String {
    let at = figures.clock(degrees);
    let short = degrees.min(360.0 - degrees);
    let Some(round) = sheet.circumference.map(|whole| whole * short / 360.0).filter(|mm| *mm > 0.5) else { return at };
    let towards = if degrees <= 180.0 { 90 } else { 270 };
    format!("{at}, {} round the tube from 0 towards {towards}", figures.length(round))
}
