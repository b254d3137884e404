//! The strip itself: what is cut out and laid round the tube.
//!
//! Its own coordinates: origin at the left end of the base line, x round the tube, y along it towards the cut, both true scale
//! on paper. Along x the print is longer than the tube's circumference by the ratio of the circles of paper and tube.

use super::arrow_words;
use super::labels::Occupied;
use crate::drawing::{Anchor, Area, Drawing, Face, Lettering, Path, Pen, Point, Text, Turn};
use crate::pack::Status;
use crate::pack::figures::{datum, end_name, short_length};
use crate::pack::flow::{baseline, break_lines};
use crate::pack::furniture::{DRAFT_MARK, Furniture};
use crate::sheets::{CutRow, Wrap};

/// Width of the overlap beyond the closure line, mm.
const TAB: f64 = 8.0;
/// From the highest point of the lines to the strip's upper edge, mm.
const ABOVE: f64 = 4.0;
/// Height above that edge for the names of the long points, mm.
const NAMES: f64 = 10.0;
/// Height of the ticks of the index lines at the base line, mm.
const TICK: f64 = 6.0;
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

/// By how much the paper's own thickness stretches the wrap round the tube.
pub(super) fn paper_factor(wrap: &Wrap, paper_thickness: f64) -> f64 {
    (wrap.od + paper_thickness) / wrap.od
}

/// Whether the relief line parts from the outer line so that both are seen.
pub(super) fn shows_relief(wrap: &Wrap) -> bool {
    wrap.largest_relief >= VISIBLE && !wrap.relief.is_empty()
}

/// Draws the strip of a wrap.
pub(super) fn draw(wrap: &Wrap, row: Option<&CutRow>, furniture: Furniture) -> Strip {
    let factor = paper_factor(wrap, furniture.issue.paper_thickness);
    let layout = Layout {
        wrap,
        factor,
        closure: wrap.circumference * factor,
        top: wrap.height + ABOVE,
    };
    let mut drawing = Drawing::default();
    layout.lines(&mut drawing);
    layout.outline(&mut drawing);
    let words_top = layout.words(&mut drawing, row, furniture);
    layout.lengthwise_lines(&mut drawing, words_top, furniture);
    layout.misses(&mut drawing);
    layout.name_lines(&mut drawing, words_top, furniture);
    Strip {
        drawing,
        width: layout.closure + TAB,
        height: layout.top + NAMES,
    }
}

/// What all parts of the strip need to know.
struct Layout<'a> {
    wrap: &'a Wrap,
    factor: f64,
    /// Where the left edge meets the strip again.
    closure: f64,
    /// Upper edge of the strip.
    top: f64,
}

impl Layout<'_> {
    fn printed(&self, run: &[[f64; 2]]) -> Vec<Point> {
        run.iter().map(|[x, y]| [x * self.factor, *y]).collect()
    }

    fn lines(&self, drawing: &mut Drawing) {
        for run in &self.wrap.outer {
            drawing.path(Path::polyline(&self.printed(run), Pen::Cut));
        }
        if shows_relief(self.wrap) {
            for run in &self.wrap.relief {
                drawing.path(Path::polyline(&self.printed(run), Pen::Relief));
            }
        }
    }

    /// Base line and sides; the upper edge and the overlap are thin and dashed.
    fn outline(&self, drawing: &mut Drawing) {
        let end = self.closure + TAB;
        drawing.path(Path::polyline(
            &[[0.0, self.top], [0.0, 0.0], [end, 0.0]],
            Pen::Edge,
        ));
        drawing.line([self.closure, 0.0], [self.closure, self.top], Pen::Edge);
        drawing.path(Path::polyline(
            &[[0.0, self.top], [end, self.top], [end, 0.0]],
            Pen::Hidden,
        ));
        let at = [self.closure + TAB - 2.4, 3.0];
        let text = Text::new("overlap: closure line at the left", at).lettered(Lettering::Small);
        drawing.text(text.turned(Turn::Quarter));
    }

    /// Lowest point of the lines: below it there is room for words.
    fn lowest(&self) -> f64 {
        let runs = self.wrap.outer.iter().chain(&self.wrap.relief);
        runs.flatten().map(|[_, y]| *y).fold(self.top, f64::min)
    }

    /// Mark, base line, arrow and facts of issue, as far as there is room below the lines. Returns the height they reach.
    fn words(&self, drawing: &mut Drawing, row: Option<&CutRow>, furniture: Furniture) -> f64 {
        const LEFT: f64 = 11.0;
        let (wrap, issue) = (self.wrap, furniture.issue);
        let mut lines: Vec<(String, Lettering, Face)> = vec![
            (
                format!("{}   {} end", wrap.member, end_name(wrap.end)),
                Lettering::Heading,
                Face::Bold,
            ),
            (arrow_words(wrap.end), Lettering::Body, Face::Bold),
            (
                format!(
                    "base line: set to the mark at {} mm {}",
                    short_length(wrap.set_out.distance),
                    datum(wrap.set_out, wrap.other_long_point.is_none())
                ),
                Lettering::Body,
                Face::Regular,
            ),
            (
                facts_of_issue(wrap, row, furniture),
                Lettering::Small,
                Face::Regular,
            ),
        ];
        if issue.status == Status::Draft {
            lines.insert(1, (DRAFT_MARK.to_owned(), Lettering::Body, Face::Bold));
        }
        let room = self.lowest() - 2.0;
        let width = self.closure - LEFT - 2.0;
        let mut chosen: Vec<(String, Lettering, Face)> = Vec::new();
        let mut height = 0.0;
        for (text, lettering, face) in lines {
            let broken = break_lines(furniture.letters, &text, lettering, face, width);
            #[allow(clippy::cast_precision_loss)]
            let more = broken.len() as f64 * lettering.leading();
            if TICK + height + more <= room {
                height += more;
                chosen.extend(broken.into_iter().map(|line| (line, lettering, face)));
            }
        }
        if chosen.is_empty() {
            return TICK;
        }
        let words_top = TICK + height;
        let mut y = words_top;
        for (line, lettering, face) in chosen {
            let mut text = Text::new(line, [LEFT, baseline(y, lettering)]).lettered(lettering);
            text.face = face;
            drawing.text(text);
            y -= lettering.leading();
        }
        arrow_down(drawing, 6.0, words_top - 1.0, TICK + 0.5);
        words_top + 1.0
    }

    /// Index lines and long points: ticks at the base line, then from above the words to the upper edge.
    fn lengthwise_lines(&self, drawing: &mut Drawing, words_top: f64, furniture: Furniture) {
        let long_points = self.long_points();
        for line in &self.wrap.index_lines {
            let x = line.x * self.factor;
            let mut places = vec![x];
            if x < SAME {
                places.push(self.closure);
            } else if (x - self.closure).abs() < SAME {
                places.push(0.0);
            }
            let words = format!("{}°", short_length(line.clock_deg));
            for place in places {
                let on_edge = place < SAME || (place - self.closure).abs() < SAME;
                let on_axis = long_points.iter().any(|(x, _)| (x - place).abs() < SAME);
                if !on_edge && !on_axis {
                    drawing.line([place, 0.0], [place, TICK - 0.5], Pen::Thin);
                    drawing.line([place, words_top], [place, self.top], Pen::Thin);
                }
                if place < self.closure - SAME || x >= self.closure - SAME {
                    self.index_label(drawing, &words, place, furniture);
                }
            }
        }
        for (x, _) in &long_points {
            if *x > SAME && (*x - self.closure).abs() > SAME {
                drawing.line([*x, 0.0], [*x, TICK - 0.5], Pen::Axis);
                drawing.line([*x, words_top], [*x, self.top], Pen::Axis);
            }
        }
        self.name_long_points(drawing, &long_points, furniture);
    }

    /// The number of an index line, right of its tick or left of it where a neighbour stands in the way.
    fn index_label(&self, drawing: &mut Drawing, words: &str, x: f64, furniture: Furniture) {
        let bounds = Area {
            x: 0.0,
            y: 0.0,
            width: self.closure,
            height: TICK,
        };
        let mut ticks = drawing.clone();
        for (place, _) in self.long_points() {
            ticks.line([place, 0.0], [place, TICK], Pen::Axis);
        }
        let occupied = Occupied::new(furniture.letters, bounds, &ticks);
        let right = Text::new(words, [x + 1.2, 1.6]);
        let left = Text::new(words, [x - 1.2, 1.6]).anchored(Anchor::End);
        let text = if occupied.is_free(&right) { right } else { left };
        drawing.text(text);
    }

    /// Where the long points lie, with their names; one entry when both lie on one line.
    fn long_points(&self) -> Vec<(f64, &'static str)> {
        let this = self.wrap.long_point.map(|line| line.x * self.factor);
        let other = self.wrap.other_long_point.map(|line| line.x * self.factor);
        match (this, other) {
            (Some(a), Some(b)) if (a - b).abs() < SAME => {
                vec![(a, "long points of both cuts")]
            }
            _ => [
                (this, "long point of this cut"),
                (other, "other end's furthest point"),
            ]
            .into_iter()
            .filter_map(|(x, name)| Some((x?, name)))
            .collect(),
        }
    }

    /// Names above the strip, one higher than the other, each over its own line and clear of the other's.
    fn name_long_points(
        &self,
        drawing: &mut Drawing,
        long_points: &[(f64, &'static str)],
        furniture: Furniture,
    ) {
        let body = Lettering::Body;
        let end = self.closure + TAB;
        let width = |name: &str| furniture.letters.width(name, body, Face::Regular);
        let over = |x: f64, name: &str, low: f64, high: f64| {
            let wide = width(name);
            (high - low >= wide).then(|| (x - wide / 2.0).clamp(low, high - wide))
        };
        let mut order: Vec<(f64, &str)> = long_points.to_vec();
        if let [a, b] = order.as_slice() {
            // The lower name must leave the leader of the higher one free.
            let left_of = over(a.0, a.1, 0.0, b.0 - 1.0).filter(|_| a.0 < b.0);
            let right_of = over(a.0, a.1, b.0 + 1.0, end).filter(|_| a.0 > b.0);
            if left_of.or(right_of).is_none() {
                order.reverse();
            }
        }
        let lower = order.first().copied();
        for (level, (x, name)) in order.iter().enumerate() {
            let y = self.top + if level == 0 { 1.6 } else { 6.2 };
            let (low, high) = match order.get(1) {
                Some((higher, _)) if level == 0 && *higher > *x => (0.0, higher - 1.0),
                Some((higher, _)) if level == 0 => (higher + 1.0, end),
                _ => (0.0, end),
            };
            let Some(start) = over(*x, name, low, high).or_else(|| over(*x, name, 0.0, end))
            else {
                continue;
            };
            let crosses = level == 1
                && lower.is_some_and(|(at, name)| {
                    over(at, name, 0.0, end).is_some_and(|s| *x > s - 0.5 && *x < s + width(name))
                        && over(at, name, 0.0, x - 1.0).is_none()
                        && over(at, name, x + 1.0, end).is_none()
                });
            if level == 1 && !crosses {
                drawing.line([*x, self.top], [*x, y - 1.0], Pen::Axis);
            }
            drawing.text(Text::new(*name, [start, y]));
        }
    }

    /// A bracket above the lines over each part of the wall that misses.
    fn misses(&self, drawing: &mut Drawing) {
        for miss in &self.wrap.misses {
            let (Some(a), Some(b)) = (self.place_of(miss.from_deg), self.place_of(miss.to_deg))
            else {
                continue;
            };
            let y = self.top - 1.5;
            let (low, high) = (a.min(b), a.max(b));
            // Between two clock angles there are two ways round; the bracket takes the one as long as the miss.
            let long = (miss.to_deg - miss.from_deg) / 360.0 * self.closure;
            let spans = if (high - low - long).abs() < 0.5 {
                vec![(low, high)]
            } else {
                vec![(0.0, low), (high, self.closure)]
            };
            for (from, to) in spans {
                drawing.line([from, y], [to, y], Pen::Measure);
                for x in [from, to] {
                    drawing.line([x, y - 1.2], [x, y + 1.2], Pen::Measure);
                }
            }
        }
    }

    /// Place of a clock angle on the print, reckoned from the index lines.
    fn place_of(&self, clock_deg: f64) -> Option<f64> {
        let find = |degrees: f64| {
            let lines = &self.wrap.index_lines;
            lines
                .iter()
                .find(|line| (line.clock_deg - degrees).abs() < 1e-6)
        };
        let (zero, quarter) = (find(0.0)?, find(90.0)?);
        let round = self.wrap.circumference;
        let forward = (quarter.x - zero.x).rem_euclid(round) < round / 2.0;
        let along = clock_deg / 360.0 * round * if forward { 1.0 } else { -1.0 };
        Some((zero.x + along).rem_euclid(round) * self.factor)
    }

    /// Names of the two lines and bevel figures, wherever they stand free.
    fn name_lines(&self, drawing: &mut Drawing, words_top: f64, furniture: Furniture) {
        let bounds = Area {
            x: 0.4,
            y: words_top,
            width: self.closure - 0.8,
            height: self.top - words_top - 0.3,
        };
        let mut occupied = Occupied::new(furniture.letters, bounds, drawing);
        let mut placed = Drawing::default();
        let outer: Vec<Point> = self.wrap.outer.iter().flat_map(|r| self.printed(r)).collect();
        if shows_relief(self.wrap) {
            let mut relief: Vec<Point> =
                self.wrap.relief.iter().flat_map(|r| self.printed(r)).collect();
            // Where the two lines stand furthest apart the name cannot be taken for the other's.
            let gap = |p: &Point| height_at(&outer, p[0]).map_or(0.0, |y| y - p[1]);
            relief.sort_by(|a, b| gap(b).total_cmp(&gap(a)).then(a[0].total_cmp(&b[0])));
            name_line("relief line", &relief, -1.0, &mut occupied, &mut placed);
        }
        let mut spread: Vec<Point> = outer.clone();
        spread.sort_by(|a, b| b[1].total_cmp(&a[1]).then(a[0].total_cmp(&b[0])));
        let name = if self.wrap.cut == "square" {
            "trim line"
        } else {
            "outer line"
        };
        name_line(name, &spread, 1.0, &mut occupied, &mut placed);
        for bevel in &self.wrap.bevels {
            let at = [bevel.x * self.factor, bevel.y];
            bevel_figure(bevel.dihedral_deg, at, &mut occupied, &mut placed);
        }
        drawing.append(placed);
    }
}

/// The mark and issue in one small line, so that a cut-out strip still says what it belongs to.
fn facts_of_issue(wrap: &Wrap, row: Option<&CutRow>, furniture: Furniture) -> String {
    let issue = furniture.issue;
    let revision = match issue.status {
        Status::Draft => "draft".to_owned(),
        Status::Issued => format!("revision {}", issue.revision),
    };
    let mut line = format!("{}, {revision}, {}", issue.design, issue.date);
    if !issue.kit.is_empty() {
        line.push_str(&format!(", kit {}", issue.kit));
    }
    line.push_str(&format!(", section {}", wrap.size));
    if let Some(row) = row {
        line.push_str(&format!(" {}", row.material));
    }
    line
}

fn arrow_down(drawing: &mut Drawing, x: f64, from: f64, to: f64) {
    drawing.line([x, from], [x, to + 3.0], Pen::Cut);
    drawing.path(Path::triangle([
        [x, to],
        [x - 1.6, to + 3.4],
        [x + 1.6, to + 3.4],
    ]));
}

/// Height of a line of points at a place, on the straight between its neighbours.
fn height_at(points: &[Point], x: f64) -> Option<f64> {
    points.windows(2).find_map(|pair| {
        let ([xa, ya], [xb, yb]) = (pair[0], pair[1]);
        (xa <= x && x <= xb && xb > xa).then(|| ya + (yb - ya) * (x - xa) / (xb - xa))
    })
}

/// Puts a name beside a line, above it (`side` 1) or below it (-1), with a leader when it stands off.
fn name_line(
    name: &str,
    places: &[Point],
    side: f64,
    occupied: &mut Occupied,
    placed: &mut Drawing,
) {
    let letter = Lettering::Small.height();
    for off in [1.2, 3.0, 5.5, 8.5, 12.0] {
        for &[x, y] in places {
            let foot = if side > 0.0 {
                y + off
            } else {
                y - off - letter
            };
            let text = Text::new(name, [x, foot])
                .lettered(Lettering::Small)
                .anchored(Anchor::Middle);
            let edge = if side > 0.0 {
                foot - 0.7
            } else {
                foot + letter + 0.6
            };
            if !occupied.is_free(&text) || !occupied.is_clear([x, y], [x, edge]) {
                continue;
            }
            occupied.take(&text);
            if off > 2.0 {
                placed.line([x, y], [x, edge], Pen::Thin);
                occupied.take_line([x, y], [x, edge]);
            }
            placed.text(text);
            return;
        }
    }
}

/// Puts a bevel figure near its place on the outer line, or leaves it out where nothing is free.
fn bevel_figure(degrees: f64, at: Point, occupied: &mut Occupied, placed: &mut Drawing) {
    for (right, up) in [
        (0.0, 1.1),
        (2.4, 0.6),
        (-2.4, 0.6),
        (0.0, 2.2),
        (3.4, -0.6),
        (-3.4, -0.6),
        (0.0, -3.0),
    ] {
        let text = Text::new(format!("{degrees:.0}°"), [at[0] + right, at[1] + up])
            .lettered(Lettering::Small)
            .anchored(Anchor::Middle);
        if occupied.is_free(&text) {
            occupied.take(&text);
            placed.text(text);
            return;
        }
    }
}
