//! A strip larger than the paper, cut into tiles that are put together again at their join lines.

use super::strip::Strip;
use crate::drawing::{Anchor, Area, Drawing, Lettering, Pen, Text, Turn};
use crate::render::Letters;

/// How far a tile reaches beyond its join line, to be glued under the next one, mm.
pub(super) const UNDER: f64 = 8.0;
/// Arms of the match marks, mm.
const ARM: f64 = 2.5;

/// One tile: its lower left corner is its origin.
pub(super) struct Tile {
    pub(super) drawing: Drawing,
    pub(super) height: f64,
    /// Such as `B2`: column by letter, row by number, from the lower left.
    pub(super) name: String,
}

/// The tiles of a strip on pages with `room`; `None` when the room is too small for any.
pub(super) fn tiles(strip: &Strip, room: [f64; 2], letters: &Letters) -> Option<Vec<Tile>> {
    let areas: Vec<Area> = strip.drawing.texts().map(|text| letters.area(text)).collect();
    let across: Vec<[f64; 2]> = areas.iter().map(|area| [area.x, area.right()]).collect();
    let up: Vec<[f64; 2]> = areas.iter().map(|area| [area.y, area.top()]).collect();
    let (columns, rows) = (joins(strip.width, room[0], &across)?, joins(strip.height, room[1], &up)?);
    let mut tiles = Vec::new();
    for (row, y) in rows.windows(2).enumerate() {
        for (column, x) in columns.windows(2).enumerate() {
            let (last_column, last_row) = (column + 2 == columns.len(), row + 2 == rows.len());
            let window = Area {
                x: x[0],
                y: y[0],
                width: x[1] - x[0] + if last_column { 0.0 } else { UNDER },
                height: y[1] - y[0] + if last_row { 0.0 } else { UNDER },
            };
            let mut shown = strip.drawing.within(window, |text| letters.area(text));
            for (join, at) in columns.iter().enumerate().filter(|(join, _)| *join > 0 && join + 1 < columns.len()) {
                if *at >= window.x && *at <= window.right() {
                    upright_join(&mut shown, *at, window, join);
                }
            }
            for (join, at) in rows.iter().enumerate().filter(|(join, _)| *join > 0 && join + 1 < rows.len()) {
                if *at >= window.y && *at <= window.top() {
                    level_join(&mut shown, *at, window, join);
                }
            }
            let mut drawing = Drawing::default();
            drawing.place(&shown, crate::drawing::Placement { at: [-window.x, -window.y], turn: Turn::None });
            tiles.push(Tile { drawing, height: window.height, name: name(column, row) });
        }
    }
    Some(tiles)
}

/// Where tiles meet, from 0 to `extent`: as far apart as the room allows, and through no text.
fn joins(extent: f64, room: f64, texts: &[[f64; 2]]) -> Option<Vec<f64>> {
    const STEP: f64 = 0.5;
    let mut joins = vec![0.0];
    let mut from = 0.0;
    while from + room < extent {
        let furthest = from + room - UNDER;
        let nearest = from + 0.5 * room;
        if furthest < nearest {
            return None;
        }
        let runs_through = |at: f64| texts.iter().any(|[low, high]| *low < at && *high > at);
        let mut at = furthest;
        while at > nearest && runs_through(at) {
            at -= STEP;
        }
        from = if runs_through(at) { furthest } else { at };
        joins.push(from);
    }
    joins.push(extent);
    Some(joins)
}

fn name(column: usize, row: usize) -> String {
    let letter =
        u8::try_from(column).ok().filter(|column| *column < 26).map_or('?', |column| char::from(b'A' + column));
    format!("{letter}{}", row + 1)
}

/// A join line with its match marks: the same in both tiles, so that laid on each other they coincide.
fn upright_join(drawing: &mut Drawing, x: f64, window: Area, join: usize) {
    drawing.line([x, window.y], [x, window.top()], Pen::Hidden);
    for share in [0.12, 0.88] {
        cross(drawing, [x, window.y + share * window.height]);
    }
    let words = Text::new(format!("join {join}"), [x - 1.0, window.y + 0.2 * window.height]);
    drawing.text(words.lettered(Lettering::Small).turned(Turn::Quarter));
}

fn level_join(drawing: &mut Drawing, y: f64, window: Area, join: usize) {
    drawing.line([window.x, y], [window.right(), y], Pen::Hidden);
    for share in [0.12, 0.88] {
        cross(drawing, [window.x + share * window.width, y]);
    }
    let words = Text::new(format!("join row {join}"), [window.x + 0.5 * window.width, y - 2.6]);
    drawing.text(words.lettered(Lettering::Small).anchored(Anchor::Middle));
}

fn cross(drawing: &mut Drawing, [x, y]: [f64; 2]) {
    drawing.line([x - ARM, y], [x + ARM, y], Pen::Measure);
    drawing.line([x, y - ARM], [x, y + ARM], Pen::Measure);
}
