//! Check dimensions, with room for what is measured.

use super::cover::contents_of;
use super::figures::Figures;
use super::flow::{Column, Flow};
use super::furniture::Furniture;
use super::{Content, RenderError};
use crate::drawing::{Area, Path, Pen};
use crate::sheets::{CheckRow, Sheets};

/// Share of each of the two columns of boxes.
const BOX: f64 = 0.115;
/// Height of a box, mm.
const BOX_HEIGHT: f64 = 4.7;

const COLUMNS: [Column; 7] = [
    Column::marks("dimension", 0.23),
    Column::words("what is measured", 0.3),
    Column::words("class", 0.06),
    Column::figures("nominal, mm", 0.09),
    Column::figures("allowed, mm", 0.09),
    Column::words("tacked, mm", BOX),
    Column::words("welded, mm", BOX),
];

/// The pages of the check dimensions; none when there are none.
pub(super) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    if sheets.checks.is_empty() {
        return Ok(Vec::new());
    }
    let (declared, proposed): (Vec<&CheckRow>, Vec<&CheckRow>) = sheets.checks.iter().partition(|check| check.declared);
    let area = furniture.content_area();
    let mut flow = Flow::new(furniture, area, "Check dimensions");
    flow.paragraph(
        "Measure each when the frame is tacked and again when it is welded, and write down what you read. Points lie on centrelines: measure from the middle of one tube to the middle of the other, or from the same side of both. Of two diagonals the difference matters most. Allowed: linear tolerance of ISO 13920 for the class; it says what good shop work reaches, not what a rule book asks.",
    );
    for (heading, rows) in [("Named by the design", declared), ("Further ones, reckoned from the frame", proposed)] {
        if rows.is_empty() {
            continue;
        }
        flow.heading(heading);
        flow.start_table(&COLUMNS);
        for check in rows {
            let height = flow.row(&cells(check, furniture.figures()), "");
            boxes(&mut flow, area, height);
        }
        flow.end_table();
    }
    Ok(contents_of(flow, "Check dimensions"))
}

fn cells(check: &CheckRow, figures: Figures) -> [String; 5] {
    [
        check.name.clone(),
        check.what.clone(),
        check.class.clone(),
        figures.bare(check.nominal),
        check.tolerance.map_or_else(|| "none".to_owned(), |most| format!("±{}", figures.short(most))),
    ]
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
