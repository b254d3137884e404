//! Small wraps that share a page: each a block with its figures, set in columns.

use super::diagram;
use super::strip::Strip;
use super::words::{Wording, facts, list, what};
use super::{FOOT, GAP, Laid, SIDE, Subject, title};
use crate::drawing::{Area, Drawing, Face, Lettering, Pen, Placement, Turn};
use crate::pack::Content;
use crate::pack::check_bar;
use crate::pack::flow::{Flow, break_lines};
use crate::pack::furniture::Furniture;
use crate::sheets::Wrap;

/// Between two wraps on one page, mm.
const APART: f64 = 6.0;
/// Least width of a column of wraps, mm.
const COLUMN: f64 = 170.0;

/// A wrap with its figures, hanging down from its upper left corner.
pub(super) struct Block {
    drawing: Drawing,
    pub(super) height: f64,
}

/// Places for blocks on a page: columns, each filled from the top.
pub(super) struct Grid {
    columns: usize,
    room: f64,
    column: usize,
    used: f64,
}

impl Grid {
    pub(super) fn new(furniture: Furniture) -> Self {
        let area = block_area(furniture);
        let columns = std::iter::successors(Some(1_usize), |count| Some(count + 1))
            .take_while(|count| *count == 1 || column_width(area, *count) >= COLUMN)
            .last()
            .unwrap_or(1);
        Self { columns, room: area.height, column: 0, used: 0.0 }
    }

    /// Whether a block of this height still finds a place; takes it.
    pub(super) fn take(&mut self, height: f64) -> bool {
        if self.used > 0.0 && self.used + APART + height > self.room {
            if self.column + 1 == self.columns {
                return false;
            }
            self.column += 1;
            self.used = 0.0;
        }
        self.used += if self.used > 0.0 { APART + height } else { height };
        true
    }

    /// Corner of the block taken last, from the upper left of the page's room.
    fn corner(&self, height: f64, area: Area) -> [f64; 2] {
        #[allow(clippy::cast_precision_loss)]
        let x = area.x + self.column as f64 * (column_width(area, self.columns) + GAP);
        [x, area.top() - (self.used - height)]
    }
}

#[allow(clippy::cast_precision_loss)]
fn column_width(area: Area, columns: usize) -> f64 {
    (area.width - GAP * (columns - 1) as f64) / columns as f64
}

/// Where blocks stand: beside the upright bar and above the level one.
fn block_area(furniture: Furniture) -> Area {
    let area = furniture.content_area();
    Area { y: area.y + FOOT, width: area.width - SIDE - GAP, height: area.height - FOOT, ..area }
}

/// Wraps that share a page, in their order; one alone has a page laid out for itself.
pub(super) fn groups<'a, 'b>(laid: &'a [Laid<'b>], furniture: Furniture) -> Vec<&'a [Laid<'b>]> {
    let mut groups = Vec::new();
    let (mut from, mut grid) = (0, Grid::new(furniture));
    for (at, wrap) in laid.iter().enumerate() {
        let height = wrap.block.as_ref().map(|block| block.height);
        if height.is_some_and(|height| grid.take(height)) {
            continue;
        }
        groups.push(&laid[from..at]);
        (from, grid) = (at, Grid::new(furniture));
        match height {
            Some(height) => {
                grid.take(height);
            }
            None => {
                groups.push(&laid[at..=at]);
                from = at + 1;
            }
        }
    }
    groups.push(&laid[from..]);
    groups.retain(|group| !group.is_empty());
    groups
}

/// The page that several wraps share.
pub(super) fn page(several: &[Laid], furniture: Furniture) -> Content {
    let (page, area) = (furniture.content_area(), block_area(furniture));
    let mut grid = Grid::new(furniture);
    let mut drawing = Drawing::default();
    let mut bookmarks = Vec::new();
    for (wrap, block) in several.iter().filter_map(|laid| Some((laid.subject.wrap, laid.block.as_ref()?))) {
        grid.take(block.height);
        let at = grid.corner(block.height, area);
        if grid.used > block.height {
            let y = at[1] + APART / 2.0;
            drawing.line([at[0], y], [at[0] + column_width(area, grid.columns), y], Pen::Edge);
        }
        drawing.place(&block.drawing, Placement { at, turn: Turn::None });
        bookmarks.push(title(wrap));
    }
    drawing.append(check_bar::both(page, furniture));
    Content { is_template: true, ..Content::new(bookmarks, drawing) }
}

/// Figures and diagrams above, strip below them, in one column; `None` when the strip is wider or the whole higher than a page.
pub(super) fn block(subject: Subject, strip: &Strip, furniture: Furniture) -> Option<Block> {
    let wrap = subject.wrap;
    let grid = Grid::new(furniture);
    let area = block_area(furniture);
    let width = column_width(area, grid.columns);
    if strip.width > width {
        return None;
    }
    // Drawn with its upper edge at nought.
    let column = Area { x: 0.0, y: -area.height, width, height: area.height };
    let (mut drawing, below) = small_heading(wrap, column, furniture);
    let diagram_width = diagram::WIDTH + diagram::CLOCK + GAP;
    let facts_area = Area { width: width - diagram_width - GAP, ..column };
    let facts_foot =
        list(&mut drawing, &facts(subject, Wording::Brief, furniture), facts_area, below, Lettering::Small, furniture);
    let beside = [width - diagram_width, below - diagram::HEIGHT];
    drawing.append(diagram::lengths(subject, furniture.figures(), beside));
    drawing.append(diagram::clock(wrap, [width - diagram::CLOCK, beside[1]]));
    let foot = facts_foot.min(beside[1]) - GAP - strip.height;
    drawing.place(&strip.drawing, Placement { at: [0.0, foot], turn: Turn::None });
    (-foot <= area.height).then_some(Block { drawing, height: -foot })
}

/// The same in smaller letters.
fn small_heading(wrap: &Wrap, area: Area, furniture: Furniture) -> (Drawing, f64) {
    let mut flow = Flow::new(furniture, area, "");
    for line in break_lines(furniture.letters, &title(wrap), Lettering::Heading, Face::Bold, area.width) {
        flow.line(&line, area.x, Lettering::Heading, Face::Bold);
    }
    for line in break_lines(furniture.letters, &what(wrap, furniture), Lettering::Body, Face::Regular, area.width) {
        flow.line(&line, area.x, Lettering::Body, Face::Regular);
    }
    let below = flow.top() - 1.5;
    (flow.finish().pop().unwrap_or_default(), below)
}
