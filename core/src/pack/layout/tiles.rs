//! A template larger than the paper, cut into tiles that are put together again at their join lines.

use super::free_place::Occupied;
use super::templates::Templates;
use crate::drawing::{Area, Drawing, Lettering, Pen, Placement, Point, Text, Turn};
use crate::render::Letters;
use crate::words::groups::tiles::Tiles;

/// How far a tile reaches beyond its join line, to be glued under the next one, mm.
pub(in crate::pack) const UNDER: f64 = 8.0;
/// Most tiles that are worth gluing for a plate or a strip; a larger one is marked by measure.
pub(in crate::pack) const MOST: usize = 12;
/// Arms of the match marks, mm.
const ARM: f64 = 2.5;
/// How far join lines keep from words and holes, so that no match mark runs into them, mm.
const NEAR: f64 = ARM + 0.6;

/// A template to be cut into tiles, its lower left corner at the origin.
pub(in crate::pack) struct Whole<'a> {
    /// What stands on it.
    pub(in crate::pack) drawing: &'a Drawing,
    /// Width and height, mm.
    pub(in crate::pack) size: [f64; 2],
    /// What it is called on each tile.
    pub(in crate::pack) name: &'a str,
    /// Pack and kit, as each tile says them, with a comma between them.
    pub(in crate::pack) whose: &'a str,
    /// What no join line may run through, besides words.
    pub(in crate::pack) keep_whole: &'a [Area],
}

/// One tile: its lower left corner is its origin.
pub(in crate::pack) struct Tile {
    drawing: Drawing,
    height: f64,
    /// Such as `column 2, row 1`, from the lower left.
    name: String,
}

impl Whole<'_> {
    /// Its tiles for pages with `room`; `None` when the room is too small for any.
    pub(in crate::pack) fn cut(&self, room: [f64; 2], letters: &Letters, say: &Tiles) -> Option<Vec<Tile>> {
        let areas: Vec<Area> = self.drawing.texts().map(|text| letters.area(text)).collect();
        let kept = || areas.iter().chain(self.keep_whole);
        let across: Vec<[f64; 2]> = kept().map(|area| [area.x - NEAR, area.right() + NEAR]).collect();
        let up: Vec<[f64; 2]> = kept().map(|area| [area.y - NEAR, area.top() + NEAR]).collect();
        let (columns, rows) = (joins(self.size[0], room[0], &across)?, joins(self.size[1], room[1], &up)?);
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
                let mut shown = self.drawing.within(window, |text| letters.area(text));
                let inner = |all: &[f64], low: f64, high: f64| -> Vec<(usize, f64)> {
                    let joins = all.iter().copied().enumerate().take(all.len() - 1).skip(1);
                    joins.filter(|(_, at)| *at >= low && *at <= high).collect()
                };
                let (upright, level) =
                    (inner(&columns, window.x, window.right()), inner(&rows, window.y, window.top()));
                for (_, at) in &upright {
                    shown.line([*at, window.y], [*at, window.top()], Pen::Hidden);
                    for y in marks([window.y, window.top()], |y| is_clear(&areas, [*at, y])) {
                        cross(&mut shown, [*at, y]);
                    }
                }
                for (_, at) in &level {
                    shown.line([window.x, *at], [window.right(), *at], Pen::Hidden);
                    for x in marks([window.x, window.right()], |x| is_clear(&areas, [x, *at])) {
                        cross(&mut shown, [x, *at]);
                    }
                }
                let name = say.tile(column + 1, row + 1);
                let mut words =
                    Words { occupied: Occupied::new(letters, window, &shown), window, placed: Drawing::default() };
                for said in [name.as_str(), self.name].into_iter().chain(self.whose.split(", ")) {
                    words.name(said);
                }
                for (number, at) in upright {
                    words.beside_upright(&say.join(number), at);
                }
                for (number, at) in level {
                    words.beside_level(&say.join_row(number), at);
                }
                shown.append(words.placed);
                let mut drawing = Drawing::default();
                drawing.place(shown, Placement { at: [-window.x, -window.y], turn: Turn::None });
                tiles.push(Tile { drawing, height: window.height, name });
            }
        }
        Some(tiles)
    }
}

/// Places tiles, a page or a part of one each.
pub(in crate::pack) fn place(tiles: Vec<Tile>, templates: &mut Templates, say: &Tiles) {
    let count = tiles.len();
    for (index, tile) in tiles.into_iter().enumerate() {
        templates.continue_with(&say.heading(index + 1, count, &tile.name), tile.height);
        templates.place(tile.drawing, tile.height);
    }
}

/// Where tiles meet, from 0 to `extent`: as far apart as the room allows, and through nothing that is kept whole.
fn joins(extent: f64, room: f64, kept: &[[f64; 2]]) -> Option<Vec<f64>> {
    const STEP: f64 = 0.5;
    let mut joins = vec![0.0];
    let mut from = 0.0;
    while from + room < extent {
        let furthest = from + room - UNDER;
        let nearest = from + 0.5 * room;
        if furthest < nearest {
            return None;
        }
        let runs_through = |at: f64| kept.iter().any(|[low, high]| *low < at && *high > at);
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

/// Where match marks stand along a join line, near both its ends and clear of words: in both tiles at the same places, so that laid
/// on each other they coincide.
fn marks([low, high]: [f64; 2], is_clear: impl Fn(f64) -> bool) -> [f64; 2] {
    let at = |share: f64| low + share * (high - low);
    let steps = || (0..16_u8).map(|step| 0.12 + 0.02 * f64::from(step));
    let first = steps().map(at).find(|place| is_clear(*place));
    let last = steps().map(|share| at(1.0 - share)).find(|place| is_clear(*place));
    [first.unwrap_or(at(0.12)), last.unwrap_or(at(0.88))]
}

/// Whether a match mark would stand clear of the words of the whole template.
fn is_clear(texts: &[Area], [x, y]: Point) -> bool {
    let side = 2.0 * ARM + 1.0;
    let mark = Area { x: x - side / 2.0, y: y - side / 2.0, width: side, height: side };
    !texts.iter().any(|text| text.overlaps(&mark))
}

fn cross(drawing: &mut Drawing, [x, y]: Point) {
    drawing.line([x - ARM, y], [x + ARM, y], Pen::Measure);
    drawing.line([x, y - ARM], [x, y + ARM], Pen::Measure);
}

/// The words of a tile, each where it stands free.
struct Words<'a> {
    occupied: Occupied<'a>,
    window: Area,
    placed: Drawing,
}

impl Words<'_> {
    fn put(&mut self, mut tries: impl Iterator<Item = Text>) {
        if let Some(text) = tries.find(|text| self.occupied.is_free(text)) {
            self.occupied.take(&text);
            self.placed.text(text);
        }
    }

    /// Which tile it is, of what or whose, as near to the lower left corner as can be.
    fn name(&mut self, words: &str) {
        let window = self.window;
        let places = || (0..40_u8).flat_map(|up| (0..24_u8).map(move |right| [f64::from(right), f64::from(up)]));
        let text = |[right, up]: Point| {
            let at = [window.x + 2.0 + right * window.width / 24.0, window.y + 1.5 + up * window.height / 40.0];
            Text::new(words, at).lettered(Lettering::Small).bold()
        };
        let turned = |at: Point| text(at).turned(Turn::Quarter);
        self.put(places().map(text).chain(places().map(turned)));
    }

    fn beside_upright(&mut self, words: &str, x: f64) {
        let window = self.window;
        let text = |(share, off): (f64, f64)| {
            let at = [x + off, window.y + share * window.height];
            Text::new(words, at).lettered(Lettering::Small).turned(Turn::Quarter)
        };
        self.put(shares().flat_map(|share| [(share, -1.0), (share, 2.8)]).map(text));
    }

    fn beside_level(&mut self, words: &str, y: f64) {
        let window = self.window;
        let text = |(share, off): (f64, f64)| {
            Text::new(words, [window.x + share * window.width, y + off]).lettered(Lettering::Small)
        };
        self.put(shares().flat_map(|share| [(share, 0.8), (share, -2.6)]).map(text));
    }
}

/// Places along a join line, as shares of it.
fn shares() -> impl Iterator<Item = f64> {
    (0..15_u8).map(|step| 0.18 + 0.045 * f64::from(step))
}
