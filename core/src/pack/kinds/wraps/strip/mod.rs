//! The strip itself: what is cut out and laid round the tube.
//!
//! Its own coordinates: origin at the left end of the base line, x round the tube, y along it towards the cut, both true scale
//! on paper. Along x the print is longer than the tube's circumference by the ratio of the circles of paper and tube.

mod labels;
mod lengthwise;
mod long_points;
#[cfg(test)]
mod tests;
mod words;

use super::Subject;
use crate::drawing::{Area, Drawing, Lettering, Path, Pen, Point, Text, Turn, Weight};
use crate::pack::layout::figures::Figures;
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::hole_marks::{self, Unrolled};
use crate::render::Letters;
use crate::sheets::{Wrap, WrapHole};
use crate::words::groups::strips::Strips;

/// Width of the overlap beyond the closure line, mm.
const TAB: f64 = 8.0;
/// From the highest point of the lines to the strip's upper edge, mm.
const ABOVE: f64 = 4.0;
/// Height of the ticks of the index lines at the base line, mm.
const TICK: f64 = 6.0;
/// From the strip's upper edge down to the brackets over what misses, mm.
const MISS: f64 = 1.5;
/// How near the printed curves keep to the points of the lines, mm: with the lines' own tolerance within 0.01 mm of the true ones.
const FITTED: f64 = 0.004;
/// Two lines nearer than this are drawn as one, mm.
const SAME: f64 = 0.3;
/// Least throat for which a relief line is drawn, mm.
const VISIBLE: f64 = 0.05;

/// A strip and the room it takes, mm.
pub(super) struct Strip {
    pub(super) drawing: Drawing,
    pub(super) width: f64,
    pub(super) height: f64,
    /// The room of its holes.
    pub(super) holes: Vec<Area>,
}

/// Whether the relief line parts from the outer line so that both are seen.
pub(super) fn shows_relief(wrap: &Wrap) -> bool {
    wrap.largest_relief >= VISIBLE && !wrap.relief.is_empty()
}

/// Highest point of the outer line over the base line, mm: where the long point will be.
pub(super) fn highest(wrap: &Wrap) -> f64 {
    wrap.outer.iter().flatten().map(|[_, y]| *y).fold(0.0, f64::max)
}

/// Draws the strip of a wrap, its words no further from the left edge than `words_end`.
pub(super) fn draw(subject: Subject, words_end: f64, furniture: Furniture) -> Strip {
    let wrap = subject.wrap;
    let paper = furniture.issue.print.paper_thickness;
    let closure = wrap.on_paper(wrap.circumference, paper);
    let layout = Layout {
        wrap,
        figures: furniture.figures(),
        paper,
        closure,
        top: wrap.height + ABOVE,
        words_end: words_end.min(closure),
    };
    let mut drawing = Drawing::default();
    layout.lines(&mut drawing);
    let centres = layout.holes(&mut drawing);
    layout.outline(&mut drawing, furniture.letters, &furniture.words.strips);
    let long_points = layout.long_points(furniture.letters);
    let foot = layout.words(subject, long_points::height_of(&long_points), &mut drawing, furniture);
    let (words_top, unnamed) = layout.name_long_points(&long_points, foot.top, &mut drawing, furniture);
    layout.lengthwise_lines(&mut drawing, &long_points, words_top, furniture);
    layout.anywhere_kept(&[foot.left_out, unnamed].concat(), &mut drawing, furniture);
    layout.misses(&mut drawing);
    layout.name_holes(&mut drawing, &centres, furniture);
    layout.name_sides(&mut drawing, words_top, furniture);
    layout.name_lines(&mut drawing, words_top, furniture);
    let holes =
        wrap.holes.iter().zip(&centres).map(|(hole, centre)| hole_marks::room(*centre, hole.diameter)).collect();
    Strip { drawing, width: layout.closure + TAB, height: layout.top, holes }
}

/// What all parts of the strip need to know.
struct Layout<'a> {
    wrap: &'a Wrap,
    figures: Figures,
    /// Thickness of the paper, mm.
    paper: f64,
    /// Where the left edge meets the strip again.
    closure: f64,
    /// Upper edge of the strip.
    top: f64,
    /// Where words end at the latest.
    words_end: f64,
}

impl Layout<'_> {
    fn printed(&self, run: &[[f64; 2]]) -> Vec<Point> {
        run.iter().map(|[x, y]| [self.on_paper(*x), *y]).collect()
    }

    fn on_paper(&self, x: f64) -> f64 {
        self.wrap.on_paper(x, self.paper)
    }

    fn lines(&self, drawing: &mut Drawing) {
        for run in &self.wrap.outer {
            drawing.path(Path::graph(&self.printed(run), FITTED, Pen::Cut));
        }
        if shows_relief(self.wrap) {
            for run in &self.wrap.relief {
                drawing.path(Path::graph(&self.printed(run), FITTED, Pen::Relief));
            }
        }
    }

    /// Edges and crosses of the holes; returns their centres.
    fn holes(&self, drawing: &mut Drawing) -> Vec<Point> {
        let on_paper = |x: f64| self.on_paper(x);
        let tube = Unrolled { circumference: self.wrap.circumference, on_paper: &on_paper };
        self.wrap.holes.iter().map(|hole| tube.hole(hole.at, hole.diameter, &hole.outline, drawing)).collect()
    }

    /// Where the words stand across the strip: between the holes that reach below the lines, in the widest free stretch.
    fn words_span(&self) -> (f64, f64) {
        const AROUND: f64 = 3.0;
        let lowest = self.lowest();
        let reach = |hole: &WrapHole| hole.diameter / 2.0 + AROUND;
        let mut holes: Vec<(f64, f64)> = self
            .wrap
            .holes
            .iter()
            .filter(|hole| hole.at[1] - reach(hole) < lowest)
            .map(|hole| (self.on_paper(hole.at[0]) - reach(hole), self.on_paper(hole.at[0]) + reach(hole)))
            .collect();
        holes.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (mut best, mut at) = ((0.0, 0.0), 0.0_f64);
        for (from, to) in holes.into_iter().chain([(self.closure, self.closure)]) {
            let from = from.min(self.words_end);
            if from - at > best.1 - best.0 {
                best = (at, from);
            }
            at = at.max(to);
        }
        best
    }

    /// Base line and sides; the upper edge and the overlap are thin and dashed.
    fn outline(&self, drawing: &mut Drawing, letters: &Letters, say: &Strips) {
        let end = self.closure + TAB;
        drawing.path(Path::polyline(&[[0.0, self.top], [0.0, 0.0], [end, 0.0]], Pen::Edge));
        drawing.line([self.closure, 0.0], [self.closure, self.top], Pen::Edge);
        drawing.path(Path::polyline(&[[0.0, self.top], [end, self.top], [end, 0.0]], Pen::Hidden));
        let at = [self.closure + TAB - 2.4, 3.0];
        let small = Lettering::Small;
        let fits = letters.width(say.overlap(), small, Weight::Regular) < self.top - 5.0;
        let words = if fits { say.overlap() } else { say.overlap_in_short() };
        let text = Text::new(words, at).lettered(small);
        drawing.text(text.turned(Turn::Quarter));
    }

    /// Lowest point of the lines: below it there is room for words.
    fn lowest(&self) -> f64 {
        let runs = self.wrap.outer.iter().chain(&self.wrap.relief);
        runs.flatten().map(|[_, y]| *y).fold(self.top, f64::min)
    }
}
