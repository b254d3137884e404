//! Wraps that share a page: small ones set in rows and columns, two tall ones side by side; each a block with its figures.

use super::diagram;
use super::strip::Strip;
use super::words::{Wording, facts, list, what};
use super::{FOOT, GAP, Laid, SIDE, Subject, on_page, title};
use crate::drawing::{Area, Drawing, Lettering, Pen, Placement, Point, Turn, Weight};
use crate::pack::Content;
use crate::pack::layout::check_bar;
use crate::pack::layout::flow::Flow;
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::lines::break_lines;
use crate::sheets::Wrap;

/// Between two wraps on one page, mm.
const APART: f64 = 6.0;
/// Between two tall wraps side by side, mm: two of a tube of 25 mm go on A4.
const HALVES_APART: f64 = 3.0;
/// Least width of a column of wraps, mm.
const COLUMN: f64 = 110.0;
/// Least width of figures beside the diagrams; in less they go under them, mm.
const BESIDE: f64 = 60.0;
/// Width of the diagrams, mm.
const DIAGRAMS: f64 = diagram::WIDTH + diagram::CLOCK + GAP;

/// What a wrap with its figures takes on a page with others, hanging down from its upper left corner.
pub(super) struct Block {
    /// Heading and figures.
    drawing: Drawing,
    /// Lower left corners of the two diagrams.
    lengths: Point,
    clock: Point,
    /// Columns that it needs.
    span: usize,
    width: f64,
    height: f64,
}

/// Places for blocks on a page: rows, each filled from the left.
struct Grid {
    columns: usize,
    room: f64,
    /// Upper edge and height of the row, from the top of the room.
    top: f64,
    row: f64,
    /// Columns that are taken in it.
    taken: usize,
}

impl Grid {
    fn new(furniture: Furniture) -> Self {
        let area = block_area(furniture);
        let columns = std::iter::successors(Some(1_usize), |count| Some(count + 1))
            .take_while(|count| *count == 1 || column_width(area, *count) >= COLUMN)
            .last()
            .unwrap_or(1);
        Self { columns, room: area.height, top: 0.0, row: 0.0, taken: 0 }
    }

    /// Takes a place for a block that still finds one.
    fn take(&mut self, block: &Block) -> Option<Spot> {
        let fits_row = self.taken + block.span <= self.columns && self.top + block.height.max(self.row) <= self.room;
        if self.taken > 0 && !fits_row {
            let top = self.top + self.row + APART;
            if top + block.height > self.room {
                return None;
            }
            (self.top, self.row, self.taken) = (top, 0.0, 0);
        }
        let spot = Spot { column: self.taken, top: self.top };
        self.taken += block.span;
        self.row = self.row.max(block.height);
        Some(spot)
    }
}

/// A place for a block.
struct Spot {
    column: usize,
    /// From the top of the room, mm.
    top: f64,
}

#[allow(clippy::cast_precision_loss)]
fn column_width(area: Area, columns: usize) -> f64 {
    (area.width - APART * (columns - 1) as f64) / columns as f64
}

/// Where blocks stand: beside the upright bar and above the level one.
fn block_area(furniture: Furniture) -> Area {
    let area = furniture.content_area();
    Area { y: area.y + FOOT, width: area.width - SIDE - GAP, height: area.height - FOOT, ..area }
}

/// What goes on a page.
pub(super) enum Group<'a> {
    /// One wrap, laid out for itself.
    Alone(Box<Laid<'a>>),
    /// Several in rows and columns.
    Rows(Vec<Laid<'a>>),
    /// Two that are too tall to stand one above the other.
    SideBySide(Box<[Laid<'a>; 2]>),
}

/// Wraps by their pages, in their order.
pub(super) fn groups<'a>(laid: Vec<Laid<'a>>, furniture: Furniture) -> Vec<Group<'a>> {
    let mut groups: Vec<Group> = Vec::new();
    for mut several in rows(laid, furniture) {
        if several.len() > 1 {
            groups.push(Group::Rows(several));
            continue;
        }
        let Some(one) = several.pop() else { continue };
        match groups.pop() {
            Some(Group::Alone(before)) if before.half.is_some() && one.half.is_some() => {
                groups.push(Group::SideBySide(Box::new([*before, one])));
            }
            last => {
                groups.extend(last);
                groups.push(Group::Alone(Box::new(one)));
            }
        }
    }
    groups
}

/// As many as find room in rows and columns together.
fn rows<'a>(laid: Vec<Laid<'a>>, furniture: Furniture) -> Vec<Vec<Laid<'a>>> {
    let mut groups = Vec::new();
    let (mut group, mut grid) = (Vec::new(), Grid::new(furniture));
    for wrap in laid {
        if wrap.block.as_ref().and_then(|block| grid.take(block)).is_none() {
            groups.push(std::mem::take(&mut group));
            grid = Grid::new(furniture);
            match &wrap.block {
                Some(block) => {
                    grid.take(block);
                }
                None => {
                    groups.push(vec![wrap]);
                    continue;
                }
            }
        }
        group.push(wrap);
    }
    groups.push(group);
    groups.retain(|group| !group.is_empty());
    groups
}

/// The page that several wraps share.
#[allow(clippy::cast_precision_loss)]
pub(super) fn page(several: Vec<Laid>, furniture: Furniture) -> Content {
    let (page, area) = (furniture.content_area(), block_area(furniture));
    let mut grid = Grid::new(furniture);
    let width = column_width(area, grid.columns);
    let mut drawing = Drawing::default();
    let mut begins = Vec::new();
    for Laid { subject, strip, block, .. } in several {
        let Some((block, spot)) = block.and_then(|block| grid.take(&block).map(|spot| (block, spot))) else { continue };
        let x = area.x + spot.column as f64 * (width + APART);
        let at = [x, area.top() - spot.top];
        if spot.column > 0 {
            let x = x - APART / 2.0;
            divide(&mut drawing, x, [at[1] - block.height, at[1]]);
        } else if spot.top > 0.0 {
            let y = at[1] + APART / 2.0;
            drawing.line([area.x, y], [area.right(), y], Pen::Edge);
        }
        drawing.place(block.drawn(subject, strip, furniture), Placement { at, turn: Turn::None });
        begins.push(on_page(subject.wrap, furniture));
    }
    drawing.append(check_bar::both(page, furniture));
    Content { is_template: true, ..Content::new(begins, drawing) }
}

/// The page of two tall wraps.
pub(super) fn side_by_side(two: [Laid; 2], furniture: Furniture) -> Content {
    let (page, area) = (furniture.content_area(), block_area(furniture));
    let mut drawing = Drawing::default();
    let mut begins = Vec::new();
    let mut x = area.x;
    for Laid { subject, strip, half, .. } in two {
        let Some(half) = half else { continue };
        let (width, height) = (half.width, half.height);
        if x > area.x {
            divide(&mut drawing, x - HALVES_APART / 2.0, [area.top() - height, area.top()]);
        }
        let at = [x, area.top()];
        drawing.place(half.drawn(subject, strip, furniture), Placement { at, turn: Turn::None });
        begins.push(on_page(subject.wrap, furniture));
        x += width + HALVES_APART;
    }
    drawing.append(check_bar::both(page, furniture));
    Content { is_template: true, ..Content::new(begins, drawing) }
}

/// A broken line between two columns: a whole one could be taken for a check bar where it is about as long.
fn divide(drawing: &mut Drawing, x: f64, [low, high]: [f64; 2]) {
    const STROKE: f64 = 20.0;
    const FREE: f64 = 4.0;
    let mut top = high;
    while top > low {
        drawing.line([x, top], [x, (top - STROKE).max(low)], Pen::Edge);
        top -= STROKE + FREE;
    }
}

/// Figures and diagrams above, strip below them, in as few columns as hold it; `None` when the strip is wider or the whole higher
/// than a page.
#[allow(clippy::cast_precision_loss)]
pub(super) fn block(subject: Subject, strip: &Strip, furniture: Furniture) -> Option<Block> {
    let area = block_area(furniture);
    let columns = Grid::new(furniture).columns;
    let one = column_width(area, columns);
    let (span, width) = (1..=columns)
        .map(|span| (span, one + (span - 1) as f64 * (one + APART)))
        .find(|(_, width)| strip.width <= *width)?;
    // Drawn with its upper edge at nought.
    let column = Area { x: 0.0, y: -area.height, width, height: area.height };
    let (mut drawing, below) = small_heading(subject.wrap, column, furniture);
    let diagrams = below - diagram::HEIGHT;
    let facts = facts(subject, Wording::Brief, furniture);
    let beside = width - DIAGRAMS - GAP;
    let (room, top) = if beside < BESIDE { (width, diagrams - 1.0) } else { (beside, below) };
    let facts_area = Area { width: room, ..column };
    let facts_foot = list(&mut drawing, &facts, facts_area, top, Lettering::Small, furniture);
    let height = strip.height + GAP - facts_foot.min(diagrams);
    let (lengths, clock) = ([width - DIAGRAMS, diagrams], [width - diagram::CLOCK, diagrams]);
    (height <= area.height).then_some(Block { drawing, lengths, clock, span, width, height })
}

/// The same in half the width of a page: the diagram of lengths on top, the clock and the figures below it; `None` when the page holds
/// several columns of blocks anyway, or the strip is wider or the whole higher.
pub(super) fn half(subject: Subject, strip: &Strip, furniture: Furniture) -> Option<Block> {
    let area = block_area(furniture);
    let width = (area.width - HALVES_APART) / 2.0;
    if Grid::new(furniture).columns > 1 || strip.width > width {
        return None;
    }
    let column = Area { x: 0.0, y: -area.height, width, height: area.height };
    let (mut drawing, below) = small_heading(subject.wrap, column, furniture);
    let lengths = [(width - diagram::WIDTH) / 2.0, below - diagram::HEIGHT];
    let clock = [width - diagram::CLOCK, lengths[1] - 1.0 - diagram::HEIGHT];
    let facts = facts(subject, Wording::Brief, furniture);
    let beside = Area { width: width - diagram::CLOCK - GAP, ..column };
    let facts_foot = list(&mut drawing, &facts, beside, lengths[1] - 1.0, Lettering::Small, furniture);
    let height = strip.height + GAP - facts_foot.min(clock[1]);
    (height <= area.height).then_some(Block { drawing, lengths, clock, span: 1, width, height })
}

impl Block {
    fn drawn(self, subject: Subject, strip: Strip, furniture: Furniture) -> Drawing {
        let Self { mut drawing, lengths, clock, height, .. } = self;
        drawing.append(diagram::lengths(subject, furniture.figures(), lengths));
        drawing.append(diagram::clock(subject.wrap, &furniture.words.wrap_diagram, clock));
        drawing.place(strip.drawing, Placement { at: [0.0, -height], turn: Turn::None });
        drawing
    }
}

/// The same in smaller letters.
fn small_heading(wrap: &Wrap, area: Area, furniture: Furniture) -> (Drawing, f64) {
    let mut flow = Flow::new(furniture, area, "");
    for line in break_lines(furniture.letters, &title(wrap, furniture), Lettering::Heading, Weight::Bold, area.width) {
        flow.line(&line, area.x, Lettering::Heading, Weight::Bold);
    }
    for line in break_lines(furniture.letters, &what(wrap, furniture), Lettering::Body, Weight::Regular, area.width) {
        flow.line(&line, area.x, Lettering::Body, Weight::Regular);
    }
    let below = flow.top() - 1.5;
    (flow.finish().pop().unwrap_or_default(), below)
}
