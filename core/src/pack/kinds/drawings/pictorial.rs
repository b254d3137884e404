//! The whole frame in one pictorial view, every part number on it.

use super::leaders::{self, Column, Side};
use super::plot::{Plot, pen_of, size};
use super::{axes, by_number, labelled};
use crate::drawing::{Drawing, Pen};
use crate::pack::layout::flow::Flow;
use crate::pack::layout::furniture::Furniture;
use crate::sheets::Sheets;
use crate::view::{Look, SceneView};

/// The page of the pictorial view.
pub(super) fn page(sheets: &Sheets, ids: &[&str], seen: &SceneView, furniture: Furniture) -> Drawing {
    let area = furniture.content_area();
    let say = &furniture.words.drawings;
    let mut flow = Flow::new(furniture, area, say.pictorial());
    flow.paragraph(say.how_to_read_pictorial());
    let labels = leaders::width(furniture.letters, sheets.parts.iter().map(|part| part.number.as_str()));
    let room = [area.width - 2.0 * labels, flow.top() - 2.0 - area.y - axes::SIZE];
    let [width, height] = size(seen, 1.0);
    let scale = (width / room[0]).max(height / room[1]).max(1.0);
    let drawn = [width / scale, height / scale];
    let corner = [area.x + (area.width - drawn[0]) / 2.0, flow.top() - 2.0 - (room[1] - drawn[1]) / 2.0 - drawn[1]];
    let plot = Plot { seen, scale, corner };
    let mut drawing = Drawing::default();
    for path in plot.lines(seen.parts, |run| Some(pen_of(run, Pen::View))) {
        drawing.path(path);
    }
    let numbers = labelled(by_number(sheets, ids), &plot);
    let frame = plot.frame();
    let middle = frame.y + frame.height / 2.0;
    let half = (room[1] / 2.0).min(middle - area.y - axes::SIZE).min(flow.top() - 4.0 - middle);
    let column = |side: Side, edge: f64| Column { side, edge, low: middle - half, high: middle + half };
    leaders::draw(&numbers, &[column(Side::Left, frame.x), column(Side::Right, frame.right())], &mut drawing);
    axes::draw(&Look::pictorial(), [area.right() - axes::SIZE / 2.0, area.y + axes::SIZE / 2.0], &mut drawing);
    flow.page().append(drawing);
    // The flow has one page: nothing is written after the view.
    let mut page = Drawing::default();
    for drawing in flow.finish() {
        page.append(drawing);
    }
    page
}
