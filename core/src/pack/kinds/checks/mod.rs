//! Check dimensions: where each is measured, and room for what was measured.

mod sketch;
use super::changes::Scope;
use super::cover::contents_of;
use super::drawings::Standing;
use crate::drawing::{Area, Path, Pen};
use crate::pack::layout::barred;
use crate::pack::layout::figures::Figures;
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::layout::furniture::Furniture;
use crate::pack::{Content, OnPage, RenderError, SheetKind};
use crate::sheets::{CheckRow, Sheets};
use sketch::Sketches;

/// Share of each of the two columns of boxes.
const BOX: f64 = 0.115;
/// Height of a box, mm.
const BOX_HEIGHT: f64 = 4.7;

fn columns(figures: Figures) -> [Column; 7] {
    let (say, unit) = (&figures.words.checks, figures.unit());
    [
        Column::marks(say.head_number(), 0.07),
        Column::words(say.head_what(), 0.46),
        Column::words(say.head_class(), 0.06),
        Column::figures(say.head_nominal(unit), 0.09),
        Column::figures(say.head_allowed(unit), 0.09),
        Column::words(say.head_tacked(unit), BOX),
        Column::words(say.head_welded(unit), BOX),
    ]
}

/// Height of the table's head, mm.
const HEAD: f64 = 8.0;

/// Most dimensions on one sketch.
const MOST: usize = 10;

/// The pages of the check dimensions; none when there are none.
pub(in crate::pack) fn pages(
    sheets: &Sheets,
    standing: Option<&Standing>,
    furniture: Furniture,
) -> Result<Vec<Content>, RenderError> {
    let scope = Scope::of(furniture.issue);
    if !sheets.checks.iter().any(|row| scope.checks(&row.name)) {
        return Ok(Vec::new());
    }
    let area = furniture.content_area();
    let (title, say) = (furniture.words.kinds.checks(), &furniture.words.checks);
    let mut flow = Flow::new(furniture, area, title);
    flow.paragraph(say.how_to_measure());
    let widest = number(sheets.checks.len(), furniture);
    let sketches = standing.map(|standing| Sketches::of(standing, &widest, area, furniture));
    if sketches.is_some() {
        flow.paragraph(say.sketches());
    }
    let (declared, proposed): (Vec<Check>, Vec<Check>) = sheets
        .checks
        .iter()
        .enumerate()
        .filter(|(_, row)| scope.checks(&row.name))
        .map(|(index, row)| Check {
            number: number(index + 1, furniture),
            row,
            barred: barred::of_figure(&row.name, furniture),
        })
        .partition(Check::is_declared);
    let mut found = Vec::new();
    for (heading, checks) in [(say.heading_declared(), declared), (say.heading_proposed(), proposed)] {
        if !checks.is_empty() {
            found.extend(write(&mut flow, heading, &checks, sketches.as_ref(), area));
        }
    }
    let mut contents = contents_of(flow, OnPage::of_frame(SheetKind::Checks, title));
    for (page, name) in found {
        contents[page].checks.push(name);
    }
    Ok(contents)
}

/// The number of a dimension; in a pack of what changed behind the letter of its revision, since those before keep theirs.
fn number(number: usize, furniture: Furniture) -> String {
    match &furniture.issue.since {
        Some(since) if since.only => format!("{}{number}", furniture.issue.revision),
        _ => number.to_string(),
    }
}

/// A dimension with the number by which a sketch shows it.
struct Check<'a> {
    number: String,
    row: &'a CheckRow,
    /// What notices say of its figure.
    barred: Vec<String>,
}

impl Check<'_> {
    fn is_declared(&self) -> bool {
        self.row.declared
    }

    fn cells(&self, figures: Figures) -> [String; 5] {
        let (row, say) = (self.row, &figures.words.checks);
        let words = figures.measured(&row.what, &row.between);
        let what = if row.declared { say.named(&row.name, words) } else { words };
        let what = self.barred.iter().cloned().chain([what]).collect::<Vec<_>>().join("; ");
        [
            self.number.clone(),
            what,
            row.class.word().to_owned(),
            figures.bare(row.nominal),
            row.tolerance.map_or_else(|| say.no_tolerance().to_owned(), |most| format!("±{}", figures.at_most(most))),
        ]
    }
}

/// A heading, and tables of a few dimensions each under the sketch that shows them. Returns on which page, from 0, each is found.
fn write(
    flow: &mut Flow,
    heading: &str,
    checks: &[Check],
    sketches: Option<&Sketches>,
    area: Area,
) -> Vec<(usize, String)> {
    let figures = flow.figures();
    let taken = sketches.map_or(0.0, Sketches::height) + HEAD;
    let heights: Vec<f64> =
        checks.iter().map(|check| flow.row_height(&columns(figures), &check.cells(figures))).collect();
    flow.heading(heading);
    let (mut from, mut found) = (0, Vec::new());
    while from < checks.len() {
        flow.need(taken + heights[from..].iter().take(2).sum::<f64>());
        let room = flow.top() - area.y - taken;
        let mut height = 0.0;
        let fits = |row: &&f64| {
            height += **row;
            height <= room
        };
        let count = match sketches {
            Some(_) => heights[from..].iter().take(MOST).take_while(fits).count().max(1),
            None => checks.len(),
        };
        let now = &checks[from..from + count];
        if let Some(sketches) = sketches {
            flow.keep();
            let top = flow.top();
            sketches.draw(now, top, flow.page());
            flow.skip(sketches.height());
        }
        flow.start_table(&columns(figures));
        for check in now {
            let height = flow.row(&check.cells(figures), "");
            boxes(flow, area, height);
            found.push((flow.page_index(), check.row.name.clone()));
        }
        flow.end_table();
        from += count;
    }
    found
}

/// The two boxes of the row just written, of the given height.
fn boxes(flow: &mut Flow, area: Area, height: f64) {
    let y = flow.top() + (height - BOX_HEIGHT) / 2.0;
    for column in [2.0, 1.0] {
        let x = area.right() - column * BOX * area.width;
        let place = Area { x, y, width: BOX * area.width - 2.0, height: BOX_HEIGHT };
        flow.page().path(Path::rectangle(place, Pen::Thin));
    }
}
