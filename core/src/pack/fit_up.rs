//! The fit-up order, with boxes to tick.

use super::cover::contents_of;
use super::figures::{Figures, cut_and_fits, end_name};
use super::flow::{Flow, baseline, break_lines};
use super::furniture::Furniture;
use super::{Content, RenderError};
use crate::drawing::{Area, Face, Lettering, Path, Pen, Text};
use crate::sheets::{FitUpEnd, FitUpStep, Sheets, StepKind};

/// Where the words of a step begin, right of its box and number.
const INDENT: f64 = 18.0;

/// The pages of the fit-up order; none when there are no steps.
pub(super) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    if sheets.fit_up.steps.is_empty() {
        return Ok(Vec::new());
    }
    let area = furniture.content_area();
    let mut flow = Flow::new(furniture, area, "Fit-up order");
    flow.paragraph(&format!(
        "Tack each part where it belongs, check it with tape and square, and tick its box. Weld only when the whole frame is tacked and its widths and diagonals are checked. Places are those of the end of the centreline: x forward, y left, z up, in {} from the frame's origin.",
        furniture.figures().unit()
    ));
    for step in &sheets.fit_up.steps {
        write_step(&mut flow, step, area, furniture);
    }
    Ok(contents_of(flow, "Fit-up order"))
}

fn write_step(flow: &mut Flow, step: &FitUpStep, area: Area, furniture: Furniture) {
    let body = Lettering::Body;
    let mut words: Vec<String> = step.ends.iter().map(|end| end_line(end, furniture.figures())).collect();
    let note = step.note.replace(['\n', '\r', '\t'], " ");
    match step.kind {
        StepKind::Work => words.push(note),
        _ if note.is_empty() => {}
        _ => words.push(format!("Note: {note}")),
    }
    if !step.checks.is_empty() {
        words.push(format!("Check now: {}", step.checks.join(", ")));
    }
    let lines: Vec<String> = words
        .iter()
        .flat_map(|text| break_lines(furniture.letters, text, body, Face::Regular, area.width - INDENT))
        .collect();
    let title = break_lines(
        furniture.letters,
        &title_of(step, furniture.figures()),
        Lettering::Heading,
        Face::Bold,
        area.width - INDENT,
    );
    #[allow(clippy::cast_precision_loss)]
    let height = title.len() as f64 * Lettering::Heading.leading() + lines.len() as f64 * body.leading() + 3.6;
    flow.need(height.min(area.height / 2.0));
    flow.skip(1.8);
    let top = flow.top();
    flow.page().path(Path::rectangle(Area { x: area.x, y: top - 5.2, width: 4.4, height: 4.4 }, Pen::Edge));
    let number = Text::new(step.number.to_string(), [area.x + 7.0, baseline(top, Lettering::Heading)]);
    flow.page().text(number.lettered(Lettering::Heading).bold());
    for line in &title {
        flow.line(line, area.x + INDENT, Lettering::Heading, Face::Bold);
    }
    for line in &lines {
        flow.need(body.leading());
        flow.line(line, area.x + INDENT, body, Face::Regular);
    }
    flow.skip(1.8);
    flow.rule(Pen::Rule);
}

fn title_of(step: &FitUpStep, figures: Figures) -> String {
    match step.kind {
        StepKind::Work => format!("After {}", step.member),
        _ => format!("{}   {}", step.member, figures.size(&step.size)),
    }
}

fn end_line(end: &FitUpEnd, figures: Figures) -> String {
    let meets = cut_and_fits(&end.cut, &end.fits);
    let [x, y, z] = end.at.map(|mm| figures.bare(mm));
    let mut line = format!("{} end: {meets}; at x {x}, y {y}, z {z}", end_name(end.end));
    if end.trim > 0.0 {
        line.push_str(&format!("; trim {} now", figures.short_length(end.trim)));
    }
    line
}
