//! The frame, light, with some check dimensions on it by their numbers.

use super::Check;
use crate::drawing::{Area, Drawing, Ink, Path, Pen, Point};
use crate::geometry::DVec3;
use crate::pack::kinds::drawings::Standing;
use crate::pack::kinds::drawings::leaders::{self, Column, Label, Side};
use crate::pack::kinds::drawings::plot::{Plot, size};
use crate::pack::layout::furniture::Furniture;
use crate::view::{Look, SceneView, distance};

/// Share of the page's height that a sketch may take.
const SHARE: f64 = 0.36;
/// Above and below a sketch, mm.
const ABOVE: f64 = 3.0;
const BELOW: f64 = 3.0;
/// Radius of the dots at both ends of a dimension, mm.
const DOT: f64 = 0.6;
/// Where along a dimension its leader may end, the best place first.
const SHARES: [f64; 7] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8];
/// How far from the other dimensions it then stands, mm.
const CLEAR: f64 = 2.0;

/// Sketches of the frame, all of one size.
pub(super) struct Sketches<'a> {
    seen: &'a SceneView,
    scale: f64,
    area: Area,
}

impl<'a> Sketches<'a> {
    /// Of the frame, with room beside it for numbers as wide as `widest`.
    pub(super) fn of(standing: &'a Standing, widest: &str, area: Area, furniture: Furniture) -> Self {
        let seen = &standing.pictorial;
        let column = leaders::width(furniture.letters, ["999", widest].into_iter());
        let [width, height] = size(seen, 1.0);
        let room = [area.width - 2.0 * column, area.height * SHARE - ABOVE - BELOW];
        let scale = (width / room[0]).max(height / room[1]).max(1.0);
        Self { seen, scale, area }
    }

    /// What a sketch takes of a page's height, mm.
    pub(super) fn height(&self) -> f64 {
        size(self.seen, self.scale)[1] + ABOVE + BELOW
    }

    /// Draws the sketch of some dimensions below `top`.
    pub(super) fn draw(&self, checks: &[Check], top: f64, drawing: &mut Drawing) {
        let [width, height] = size(self.seen, self.scale);
        let corner = [self.area.x + (self.area.width - width) / 2.0, top - ABOVE - height];
        let plot = Plot { seen: self.seen, scale: self.scale, corner };
        for path in plot.lines(self.seen.parts, |_| Some(Pen::Standing)) {
            drawing.path(path);
        }
        let look = Look::pictorial();
        let lines: Vec<[Point; 2]> = checks
            .iter()
            .map(|check| [check.row.from, check.row.to].map(|at| plot.place(look.flat(DVec3::from_array(at)))))
            .collect();
        let labels: Vec<Label> = checks
            .iter()
            .zip(&lines)
            .enumerate()
            .map(|(index, (check, line))| {
                drawing.line(line[0], line[1], Pen::Edge);
                for end in line {
                    drawing.path(Path { pen: None, fill: Some(Ink::Black), ..Path::circle(*end, DOT, Pen::Edge) });
                }
                Label { words: check.number.clone(), at: free_place(index, &lines) }
            })
            .collect();
        let frame = plot.frame();
        let column = |side: Side, edge: f64| Column { side, edge, low: frame.y, high: frame.top() };
        leaders::draw(&labels, &[column(Side::Left, frame.x), column(Side::Right, frame.right())], drawing);
    }
}

/// A place on a line that stands clear of the others, or the one that stands furthest from them.
fn free_place(index: usize, lines: &[[Point; 2]]) -> Point {
    let [from, to] = lines[index];
    let off = |at: Point| {
        let others = lines.iter().enumerate().filter(|(other, _)| *other != index);
        others.map(|(_, [a, b])| distance(at, *a, *b)).fold(f64::INFINITY, f64::min)
    };
    let places = SHARES.map(|share| [0, 1].map(|axis| from[axis] + share * (to[axis] - from[axis])));
    let clear = places.into_iter().find(|at| off(*at) >= CLEAR);
    clear.or_else(|| places.into_iter().max_by(|a, b| off(*a).total_cmp(&off(*b)))).unwrap_or(from)
}
