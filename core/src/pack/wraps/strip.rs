//! The strip itself: what is cut out and laid round the tube.
//!
//! Its own coordinates: origin at the left end of the base line, x round the tube, y along it towards the cut, both true scale
//! on paper. Along x the print is longer than the tube's circumference by the ratio of the circles of paper and tube.

use super::arrow_words;
use super::names::{bevel_figure, height_at, name_line, slope_at, some_of};
use crate::drawing::{Anchor, Area, Drawing, Face, Lettering, Path, Pen, Point, Text, Turn};
use crate::pack::Status;
use crate::pack::figures::{datum, end_name, tenths};
use crate::pack::flow::{baseline, break_lines};
use crate::pack::free_place::Occupied;
use crate::pack::furniture::{DRAFT_MARK, Furniture};
use crate::pack::hole_marks::{self, Unrolled};
use crate::render::Letters;
use crate::sheets::{Miss, Wrap, WrapHole};

/// Width of the overlap beyond the closure line, mm.
const TAB: f64 = 8.0;
/// From the highest point of the lines to the strip's upper edge, mm.
const ABOVE: f64 = 4.0;
/// Height above that edge for the names of no, one or two long points, mm.
const NAMES: [f64; 3] = [0.0, 5.4, 10.0];
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
}

/// Whether the relief line parts from the outer line so that both are seen.
pub(super) fn shows_relief(wrap: &Wrap) -> bool {
    wrap.largest_relief >= VISIBLE && !wrap.relief.is_empty()
}

/// Draws the strip of a wrap, its words no further from the left edge than `words_end`.
pub(super) fn draw(wrap: &Wrap, words_end: f64, furniture: Furniture) -> Strip {
    let paper = furniture.issue.print.paper_thickness;
    let closure = wrap.on_paper(wrap.circumference, paper);
    let layout = Layout { wrap, paper, closure, top: wrap.height + ABOVE, words_end: words_end.min(closure) };
    let mut drawing = Drawing::default();
    layout.lines(&mut drawing);
    let centres = layout.holes(&mut drawing);
    layout.outline(&mut drawing, furniture.letters);
    let words_top = layout.words(&mut drawing, furniture);
    layout.lengthwise_lines(&mut drawing, words_top, furniture);
    layout.misses(&mut drawing);
    layout.name_holes(&mut drawing, &centres, furniture);
    layout.name_sides(&mut drawing, words_top, furniture);
    layout.name_lines(&mut drawing, words_top, furniture);
    let names = NAMES[layout.long_points().len().min(2)];
    Strip { drawing, width: layout.closure + TAB, height: layout.top + names }
}

/// What all parts of the strip need to know.
struct Layout<'a> {
    wrap: &'a Wrap,
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

    /// Names of the holes where they stand free.
    fn name_holes(&self, drawing: &mut Drawing, centres: &[Point], furniture: Furniture) {
        let bounds = Area { x: 0.4, y: 0.5, width: self.closure - 0.8, height: self.top - 1.0 };
        let mut occupied = Occupied::new(furniture.letters, bounds, drawing);
        let mut placed = Drawing::default();
        for (hole, centre) in self.wrap.holes.iter().zip(centres) {
            let words = format!("drill {}, {}", furniture.figures().fine(hole.diameter), hole.hole);
            hole_marks::name(&words, *centre, hole.diameter, &mut occupied, &mut placed);
        }
        drawing.append(placed);
    }

    /// The flat sides of a rectangular tube, each called by its clock angle.
    fn name_sides(&self, drawing: &mut Drawing, words_top: f64, furniture: Furniture) {
        let bounds = Area { x: 0.4, y: words_top, width: self.closure - 0.8, height: self.top - words_top - 0.3 };
        let mut occupied = Occupied::new(furniture.letters, bounds, drawing);
        let mut placed = Drawing::default();
        for side in &self.wrap.flats {
            let (from, to) = (self.on_paper(side.from), self.on_paper(side.to));
            let words = format!("side {}°", degrees(side.clock_deg));
            let upright = |share: f64, y: f64| {
                let at = [from + share * (to - from) + 0.9, y];
                Text::new(words.as_str(), at).lettered(Lettering::Small).turned(Turn::Quarter)
            };
            let level = |share: f64, y: f64| {
                let at = [from + share * (to - from), y];
                Text::new(words.as_str(), at).lettered(Lettering::Small).anchored(Anchor::Middle)
            };
            let steps = (0..40_u8).map(|step| words_top + 1.0 + f64::from(step));
            let tries = steps.flat_map(|y| {
                let shares = [0.25, 0.75, 0.5];
                shares.map(|share| level(share, y)).into_iter().chain(shares.map(|share| upright(share, y)))
            });
            if let Some(text) = tries.into_iter().find(|text| occupied.is_free(text)) {
                occupied.take(&text);
                placed.text(text);
            }
        }
        drawing.append(placed);
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
    fn outline(&self, drawing: &mut Drawing, letters: &Letters) {
        let end = self.closure + TAB;
        drawing.path(Path::polyline(&[[0.0, self.top], [0.0, 0.0], [end, 0.0]], Pen::Edge));
        drawing.line([self.closure, 0.0], [self.closure, self.top], Pen::Edge);
        drawing.path(Path::polyline(&[[0.0, self.top], [end, self.top], [end, 0.0]], Pen::Hidden));
        let at = [self.closure + TAB - 2.4, 3.0];
        let small = Lettering::Small;
        let long = "overlap: closure line at the left";
        let fits = letters.width(long, small, Face::Regular) < self.top - 5.0;
        let words = if fits { long } else { "overlap" };
        let text = Text::new(words, at).lettered(small);
        drawing.text(text.turned(Turn::Quarter));
    }

    /// Lowest point of the lines: below it there is room for words.
    fn lowest(&self) -> f64 {
        let runs = self.wrap.outer.iter().chain(&self.wrap.relief);
        runs.flatten().map(|[_, y]| *y).fold(self.top, f64::min)
    }

    /// Mark, base line, arrow and facts of issue, as far as there is room below the lines. Returns the height they reach.
    fn words(&self, drawing: &mut Drawing, furniture: Furniture) -> f64 {
        const LEFT: f64 = 11.0;
        let wrap = self.wrap;
        let (from, to) = self.words_span();
        let base = format!(
            "base line: set to the mark at {} {}",
            furniture.figures().short_length(wrap.set_out.distance),
            datum(wrap.set_out, wrap.other_long_point.is_none())
        );
        let mark = format!("{}, {} end", wrap.member, end_name(wrap.end));
        let width = to - from - LEFT - 2.0;
        let in_one_line = |lettering: &Lettering| furniture.letters.width(&mark, *lettering, Face::Bold) <= width;
        let lettering = [Lettering::Heading, Lettering::Body].into_iter().find(in_one_line).unwrap_or(Lettering::Small);
        let mut lines = vec![(mark, lettering, Face::Bold)];
        if furniture.issue.status == Status::Draft {
            lines.push((DRAFT_MARK.to_owned(), Lettering::Body, Face::Bold));
        }
        lines.extend([
            (base, Lettering::Body, Face::Regular),
            (furniture.facts_of_issue(), Lettering::Small, Face::Regular),
            (arrow_words(wrap.end), Lettering::Body, Face::Bold),
        ]);
        let room = self.lowest() - 1.8;
        let mut chosen: Vec<(String, Lettering, Face)> = Vec::new();
        let mut height = 0.0;
        for (text, lettering, face) in lines {
            // In small letters where there is no room for larger ones.
            for lettering in [lettering, Lettering::Small] {
                let broken = break_lines(furniture.letters, &text, lettering, face, width);
                #[allow(clippy::cast_precision_loss)]
                let more = broken.len() as f64 * lettering.leading();
                if TICK + height + more <= room {
                    height += more;
                    chosen.extend(broken.into_iter().map(|line| (line, lettering, face)));
                    break;
                }
            }
        }
        if chosen.is_empty() {
            return TICK;
        }
        let words_top = TICK + height;
        let mut y = words_top;
        for (line, lettering, face) in chosen {
            let mut text = Text::new(line, [from + LEFT, baseline(y, lettering)]).lettered(lettering);
            text.face = face;
            drawing.text(text);
            y -= lettering.leading();
        }
        arrow_down(drawing, from + 6.0, words_top - 1.0, TICK + 0.5);
        words_top + 1.0
    }

    /// Index lines and long points: ticks at the base line, then from above the words to the upper edge.
    fn lengthwise_lines(&self, drawing: &mut Drawing, words_top: f64, furniture: Furniture) {
        let long_points = self.long_points();
        let on_edge = |x: f64| x < SAME || (x - self.closure).abs() < SAME;
        let on_axis = |x: f64| long_points.iter().any(|(at, _)| (at - x).abs() < SAME);
        let index: Vec<(f64, f64)> =
            self.wrap.index_lines.iter().map(|line| (self.on_paper(line.x), line.clock_deg)).collect();
        let plain = index.iter().map(|(x, _)| (*x, Pen::Thin));
        let axes = long_points.iter().map(|(x, _)| (*x, Pen::Axis));
        let edges = self.wrap.flats.iter().flat_map(|side| [side.from, side.to]);
        let folds = edges.map(|x| (self.on_paper(x), Pen::Hidden));
        let inner: Vec<(f64, Pen)> =
            plain.chain(folds).filter(|(x, _)| !on_axis(*x)).chain(axes).filter(|(x, _)| !on_edge(*x)).collect();
        let mut firm = vec![0.0, self.closure];
        firm.extend(index.iter().map(|(x, _)| *x));
        let mut ticks = firm.clone();
        ticks.extend(inner.iter().map(|(x, _)| *x));
        let mut numbers: Vec<Text> = Vec::new();
        for &(x, clock_deg) in &index {
            let words = format!("{}°", degrees(clock_deg));
            let places = if on_edge(x) { vec![0.0, self.closure] } else { vec![x] };
            for place in places {
                // At best clear of all ticks; where they crowd, the tick of a long point gives way.
                let find = |ticks: &[f64]| {
                    index_label(&words, place, furniture.letters, |area| {
                        area.x > 0.0
                            && area.right() < self.closure
                            && ticks.iter().all(|t| *t <= area.x || *t >= area.right())
                            && !numbers.iter().any(|other| furniture.letters.area(other).overlaps(area))
                    })
                };
                let number = find(&ticks).or_else(|| find(&firm)).or_else(|| find(&[]));
                numbers.extend(number);
            }
        }
        for (x, pen) in inner {
            // A tick that would run through a number stops below it.
            let crosses = numbers.iter().any(|number| {
                let area = furniture.letters.area(number);
                x > area.x - 0.2 && x < area.right() + 0.2
            });
            let end = if crosses { 0.8 } else { TICK - 0.5 };
            // Where a long point falls on an index line, the tick at the foot is that of the index line.
            let foot = index.iter().map(|(at, _)| *at).find(|at| (at - x).abs() < SAME);
            drawing.line(
                [foot.unwrap_or(x), 0.0],
                [foot.unwrap_or(x), end],
                if foot.is_some() { Pen::Thin } else { pen },
            );
            drawing.line([x, words_top], [x, self.top], pen);
        }
        for number in numbers {
            drawing.text(number);
        }
        self.name_long_points(drawing, &long_points, furniture);
    }

    /// Where the long points lie, with their names; one entry when both lie on one line.
    fn long_points(&self) -> Vec<(f64, &'static str)> {
        let this = self.wrap.long_point.map(|line| self.on_paper(line.x));
        let other = self.wrap.other_long_point.map(|line| self.on_paper(line.x));
        match (this, other) {
            (Some(a), Some(b)) if (a - b).abs() < SAME => {
                vec![(a, "long points of both cuts")]
            }
            _ => [(this, "long point of this cut"), (other, "other end's furthest point")]
                .into_iter()
                .filter_map(|(x, name)| Some((x?, name)))
                .collect(),
        }
    }

    /// Names above the strip, each over its own line. Of two, the lower one keeps clear of the leader of the higher one.
    fn name_long_points(&self, drawing: &mut Drawing, long_points: &[(f64, &'static str)], furniture: Furniture) {
        let end = self.closure + TAB;
        let width = |name: &str| {
            let letters = furniture.letters;
            letters.width(name, Lettering::Body, Face::Regular)
        };
        let mut name_over = |(x, name): (f64, &'static str), low: f64, high: f64, y: f64| {
            let start = (x - width(name) / 2.0).min(high - width(name)).max(low);
            drawing.text(Text::new(name, [start, y]));
        };
        let (first, second) = (self.top + 1.6, self.top + 6.2);
        match long_points {
            [only] => name_over(*only, 0.0, end, first),
            [a, b] => {
                let side = |lower: f64, higher: f64| {
                    if lower < higher { (0.0, higher - 1.0) } else { (higher + 1.0, end) }
                };
                let fits = |lower: &(f64, &str), higher: &(f64, &str)| {
                    let (low, high) = side(lower.0, higher.0);
                    high - low >= width(lower.1)
                };
                let (lower, higher) = if fits(a, b) { (a, b) } else { (b, a) };
                let leads = fits(lower, higher);
                let (low, high) = if leads { side(lower.0, higher.0) } else { (0.0, end) };
                name_over(*lower, low, high, first);
                name_over(*higher, 0.0, end, second);
                if leads {
                    drawing.line([higher.0, self.top], [higher.0, second - 1.0], Pen::Axis);
                }
            }
            _ => {}
        }
    }

    /// A bracket above the lines over each part of the wall that misses.
    fn misses(&self, drawing: &mut Drawing) {
        let y = self.top - MISS;
        for (from, to) in self.wrap.misses.iter().flat_map(|m| self.miss_spans(m)) {
            drawing.line([from, y], [to, y], Pen::Measure);
            for x in [from, to] {
                drawing.line([x, y - 1.2], [x, y + 1.2], Pen::Measure);
            }
        }
    }

    /// The stretches of the strip over which the wall misses: one, or two where the seam lies within.
    fn miss_spans(&self, miss: &Miss) -> Vec<(f64, f64)> {
        let places = (self.place_of(miss.from_deg), self.place_of(miss.to_deg));
        let (Some(a), Some(b)) = places else {
            return Vec::new();
        };
        let (low, high) = (a.min(b), a.max(b));
        // Between two clock angles there are two ways round; the miss takes the one of its own length.
        let long = (miss.to_deg - miss.from_deg) / 360.0 * self.closure;
        if (high - low - long).abs() < 0.5 { vec![(low, high)] } else { vec![(0.0, low), (high, self.closure)] }
    }

    /// Place of a clock angle on the print, reckoned from the index lines.
    fn place_of(&self, clock_deg: f64) -> Option<f64> {
        let find = |degrees: f64| {
            let lines = &self.wrap.index_lines;
            lines.iter().find(|line| (line.clock_deg - degrees).abs() < 1e-6)
        };
        let (zero, quarter) = (find(0.0)?, find(90.0)?);
        let round = self.wrap.circumference;
        let forward = (quarter.x - zero.x).rem_euclid(round) < round / 2.0;
        let along = clock_deg / 360.0 * round * if forward { 1.0 } else { -1.0 };
        Some(self.on_paper((zero.x + along).rem_euclid(round)))
    }

    /// Names of the two lines and bevel figures, wherever they stand free.
    fn name_lines(&self, drawing: &mut Drawing, words_top: f64, furniture: Furniture) {
        let bounds = Area { x: 0.4, y: words_top, width: self.closure - 0.8, height: self.top - words_top - 0.3 };
        let mut occupied = Occupied::new(furniture.letters, bounds, drawing);
        let mut placed = Drawing::default();
        let outer: Vec<Point> = self.wrap.outer.iter().flat_map(|r| self.printed(r)).collect();
        if shows_relief(self.wrap) {
            let relief: Vec<Point> = self.wrap.relief.iter().flat_map(|r| self.printed(r)).collect();
            // Only where the two lines stand well apart, so that the name cannot be taken for the other's.
            let gap = |p: &Point| height_at(&outer, p[0]).map_or(0.0, |y| y - p[1]);
            let mut apart: Vec<(f64, Point)> = some_of(&relief).map(|p| (gap(&p), p)).collect();
            apart.sort_by(|(a, p), (b, q)| b.total_cmp(a).then(p[0].total_cmp(&q[0])));
            let widest = apart.first().map_or(0.0, |(gap, _)| *gap);
            apart.retain(|(gap, _)| *gap > 0.4 * widest);
            let relief: Vec<Point> = apart.into_iter().map(|(_, p)| p).collect();
            name_line("relief line", &relief, -1.0, &mut occupied, &mut placed);
        }
        let mut spread: Vec<Point> = some_of(&outer).collect();
        spread.sort_by(|a, b| b[1].total_cmp(&a[1]).then(a[0].total_cmp(&b[0])));
        let name = if self.wrap.cut == "square" { "trim line" } else { "outer line" };
        name_line(name, &spread, 1.0, &mut occupied, &mut placed);
        for bevel in &self.wrap.bevels {
            let at = [self.on_paper(bevel.x), bevel.y];
            let slope = slope_at(&outer, at[0]);
            bevel_figure(bevel.dihedral_deg, at, slope, &mut occupied, &mut placed);
        }
        for miss in &self.wrap.misses {
            let words = format!("misses by {}", furniture.figures().length(miss.by));
            for (a, b) in self.miss_spans(miss) {
                let below = [0.5, 0.3, 0.7, 0.15, 0.85].map(|share| [a + share * (b - a), self.top - MISS]);
                name_line(&words, &below, -1.0, &mut occupied, &mut placed);
            }
        }
        drawing.append(placed);
    }
}

/// The number of an index line at its tick: on the side and in the height that is free, with a little clearance.
fn index_label(words: &str, x: f64, letters: &Letters, is_free: impl Fn(&Area) -> bool) -> Option<Text> {
    const OFF: f64 = 1.2;
    let label = |lettering: Lettering, right: bool| {
        let text = Text::new(words, [if right { x + OFF } else { x - OFF }, 1.6]);
        let anchor = if right { Anchor::Start } else { Anchor::End };
        text.lettered(lettering).anchored(anchor)
    };
    [Lettering::Body, Lettering::Small]
        .into_iter()
        .flat_map(|lettering| [label(lettering, true), label(lettering, false)])
        .find(|text| is_free(&letters.area(text).inset(-0.4)))
}

/// A clock angle without a nought after the point.
fn degrees(clock_deg: f64) -> String {
    tenths(clock_deg).trim_end_matches(".0").to_owned()
}

fn arrow_down(drawing: &mut Drawing, x: f64, from: f64, to: f64) {
    drawing.line([x, from], [x, to + 3.0], Pen::Cut);
    drawing.path(Path::triangle([[x, to], [x - 1.6, to + 3.4], [x + 1.6, to + 3.4]]));
}
