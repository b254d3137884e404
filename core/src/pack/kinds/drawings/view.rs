//! One orthographic view with its numbers, dimensions and caption.

use super::axes;
use super::leaders::{self, Column, Label, Side};
use super::measures::{self, Measure};
use super::plot::{Plot, pen_of, size};
use crate::drawing::{Anchor, Area, Drawing, Lettering, Pen, Point, Text};
use crate::pack::layout::free_place::Occupied;
use crate::pack::layout::furniture::Furniture;
use crate::view::{Look, SceneView};

/// Free space beside a view, above it, and the height of its caption, mm.
const SIDE: f64 = 6.0;
const ABOVE: f64 = 3.0;
const CAPTION: f64 = axes::SIZE + 1.0;

/// A view to be placed.
pub(super) struct View {
    pub(super) name: &'static str,
    pub(super) look: Look,
    pub(super) seen: SceneView,
    pub(super) levels: Vec<Measure>,
    pub(super) uprights: Vec<Measure>,
    /// Height of the base plane, where the view shows heights, mm.
    pub(super) base: Option<f64>,
    /// What is numbered: parts by their position, with their numbers.
    pub(super) numbered: Vec<(usize, String)>,
    /// Sides that have a column of numbers.
    pub(super) columns: Vec<Side>,
    /// Width of a column.
    pub(super) column: f64,
}

/// What a view takes on paper: itself, and round it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Block {
    pub(super) width: f64,
    pub(super) height: f64,
    pub(super) left: f64,
    pub(super) right: f64,
    pub(super) below: f64,
    pub(super) above: f64,
}

impl Block {
    pub(super) fn across(&self) -> f64 {
        self.left + self.width + self.right
    }

    pub(super) fn up(&self) -> f64 {
        self.below + self.height + self.above
    }
}

impl View {
    /// What it takes at a scale.
    pub(super) fn block(&self, scale: f64, furniture: Furniture) -> Block {
        let letters = furniture.letters;
        let [width, height] = size(&self.seen, scale);
        let column = |side: Side| if self.columns.contains(&side) { self.column } else { SIDE };
        let uprights = measures::depth(measures::rows(&self.uprights, 1, scale, letters).len());
        let levels = measures::depth(measures::rows(&self.levels, 0, scale, letters).len());
        let base = if self.base.is_some() { 4.0 } else { 0.0 };
        Block {
            width,
            height,
            left: column(Side::Left),
            right: column(Side::Right).max(uprights),
            below: levels.max(base) + CAPTION,
            above: ABOVE,
        }
    }

    /// How many numbers its columns hold at a scale.
    pub(super) fn capacity(&self, scale: f64) -> usize {
        self.columns.len() * leaders::places(size(&self.seen, scale)[1])
    }

    /// Draws it with the left lower end of the frame at `corner`.
    pub(super) fn draw(&self, corner: Point, scale: f64, furniture: Furniture, drawing: &mut Drawing) {
        let plot = Plot { seen: &self.seen, scale, corner };
        let block = self.block(scale, furniture);
        let frame = plot.frame();
        let parts = self.seen.parts;
        for path in plot.lines(parts, |run| Some(pen_of(run, Pen::View))) {
            drawing.path(path);
        }
        let mut own = Drawing::default();
        if let Some(base) = self.base {
            let y = plot.place([self.seen.extent[0], base])[1];
            own.line([frame.x - 4.0, y], [frame.right() + 4.0, y], Pen::Edge);
        }
        measures::draw_level(&plot, &measures::rows(&self.levels, 0, scale, furniture.letters), &mut own);
        measures::draw_upright(&plot, &measures::rows(&self.uprights, 1, scale, furniture.letters), &mut own);
        let columns: Vec<Column> = self
            .columns
            .iter()
            .map(|&side| Column {
                side,
                edge: if side == Side::Left { frame.x } else { frame.right() },
                low: frame.y,
                high: frame.top(),
            })
            .collect();
        let labels: Vec<Label> = self
            .numbered
            .iter()
            .filter_map(|(part, words)| {
                let at = plot.anchor(*part, parts)?.at;
                Some(Label { words: words.clone(), at })
            })
            .collect();
        leaders::draw(&labels, &columns, &mut own);
        self.name_base(&plot, block, furniture, &mut own);
        self.caption(frame, block, scale, furniture, &mut own);
        drawing.append(own);
    }

    fn name_base(&self, plot: &Plot, block: Block, furniture: Furniture, drawing: &mut Drawing) {
        let Some(base) = self.base else { return };
        let frame = plot.frame();
        let y = plot.place([self.seen.extent[0], base])[1] - 2.8;
        let bounds = Area { x: frame.x - 4.0, y: frame.y - block.below, width: frame.width + 8.0, height: block.up() };
        let occupied = Occupied::new(furniture.letters, bounds, drawing);
        let mut x = frame.x - 3.0;
        while x < frame.right() {
            let text = Text::new(furniture.words.views.base_plane(), [x, y]).lettered(Lettering::Small);
            if occupied.is_free(&text) {
                drawing.text(text);
                return;
            }
            x += 4.0;
        }
    }

    fn caption(&self, frame: Area, block: Block, scale: f64, furniture: Furniture, drawing: &mut Drawing) {
        let low = frame.y - block.below;
        axes::draw(&self.look, [frame.x + axes::SIZE / 2.0 - SIDE, low + axes::SIZE / 2.0], drawing);
        let x = frame.x + axes::SIZE - SIDE + 3.0;
        let y = low + axes::SIZE / 2.0;
        drawing.text(Text::new(self.name, [x, y]).bold());
        let words = furniture.words.page.scale(furniture.figures().short_tenths(scale));
        drawing.text(Text::new(words, [x, y - 4.2]).lettered(Lettering::Small).anchored(Anchor::Start));
    }
}
