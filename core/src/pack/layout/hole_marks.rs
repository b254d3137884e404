//! Holes on templates: their edge, a cross at their centre and their name where it stands free.

use super::free_place::Occupied;
use crate::drawing::{Anchor, Area, Drawing, Lettering, Path, Pen, Point, Text};

/// How far the arms of a cross stand out of the hole, mm.
const ARM: f64 = 2.0;

/// The room that a hole takes with its cross, so that no join line runs through it.
pub(in crate::pack) fn room(at: Point, diameter: f64) -> Area {
    let side = diameter + 2.0 * ARM;
    Area { x: at[0] - side / 2.0, y: at[1] - side / 2.0, width: side, height: side }
}

/// A tube's outside laid flat on paper, which begins again where it ends.
pub(in crate::pack) struct Unrolled<'a> {
    /// Length round the tube, mm.
    pub(in crate::pack) circumference: f64,
    /// Where a place on the tube lies on the paper.
    pub(in crate::pack) on_paper: &'a dyn Fn(f64) -> f64,
}

impl Unrolled<'_> {
    /// Where a place lies on the paper, also past either end of the print.
    fn printed(&self, [x, y]: Point) -> Point {
        let turns = (x / self.circumference).floor();
        let within = x - turns * self.circumference;
        [(self.on_paper)(within) + turns * (self.on_paper)(self.circumference), y]
    }

    /// Draws a run; what lies past one end of the print is drawn at the other.
    fn draw(&self, run: &[Point], pen: Pen, drawing: &mut Drawing) {
        let closure = (self.on_paper)(self.circumference);
        let run: Vec<Point> = run.iter().map(|point| self.printed(*point)).collect();
        for shift in [0.0, closure, -closure] {
            let shifted: Vec<Point> = run.iter().map(|[x, y]| [x + shift, *y]).collect();
            for piece in within(&shifted, closure) {
                drawing.path(Path::polyline(&piece, pen));
            }
        }
    }

    /// Edge and cross of a hole; returns its centre on the paper.
    pub(in crate::pack) fn hole(&self, at: Point, diameter: f64, outline: &[Point], drawing: &mut Drawing) -> Point {
        let mut edge = outline.to_vec();
        edge.extend(outline.first().copied());
        self.draw(&edge, Pen::Edge, drawing);
        let arm = diameter / 2.0 + ARM;
        self.draw(&[[at[0] - arm, at[1]], at, [at[0] + arm, at[1]]], Pen::Thin, drawing);
        self.draw(&[[at[0], at[1] - arm], [at[0], at[1] + arm]], Pen::Thin, drawing);
        self.printed(at)
    }
}

/// The pieces of a run with `x` from 0 to `width`.
fn within(run: &[Point], width: f64) -> Vec<Vec<Point>> {
    let is_in = |[x, _]: &Point| (0.0..=width).contains(x);
    let mut pieces: Vec<Vec<Point>> = Vec::new();
    let mut piece: Vec<Point> = run.first().copied().filter(is_in).into_iter().collect();
    for pair in run.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let crossing = |edge: f64| [edge, a[1] + (b[1] - a[1]) * (edge - a[0]) / (b[0] - a[0])];
        let edge_of = |out: Point| if out[0] < 0.0 { 0.0 } else { width };
        match (is_in(&a), is_in(&b)) {
            (true, true) => piece.push(b),
            (true, false) => {
                piece.push(crossing(edge_of(b)));
                pieces.push(std::mem::take(&mut piece));
            }
            (false, true) => piece.extend([crossing(edge_of(a)), b]),
            (false, false) => {}
        }
    }
    pieces.push(piece);
    pieces.retain(|piece| piece.len() > 1);
    pieces
}

/// Edge and cross of a round hole in a plate, with its countersink.
pub(in crate::pack) fn round_hole(at: Point, diameter: f64, countersink: Option<f64>, drawing: &mut Drawing) {
    drawing.path(Path::circle(at, diameter / 2.0, Pen::Edge));
    if let Some(wide) = countersink {
        drawing.path(Path::circle(at, wide / 2.0, Pen::Hidden));
    }
    let arm = countersink.unwrap_or(diameter).max(diameter) / 2.0 + ARM;
    drawing.line([at[0] - arm, at[1]], [at[0] + arm, at[1]], Pen::Thin);
    drawing.line([at[0], at[1] - arm], [at[0], at[1] + arm], Pen::Thin);
}

/// Names a hole beside it, with a leader where the name stands off; leaves the name out where nothing is free.
pub(in crate::pack) fn name(words: &str, at: Point, diameter: f64, occupied: &mut Occupied, placed: &mut Drawing) {
    let lettering = Lettering::Small;
    let (radius, height) = (diameter / 2.0, lettering.height());
    let diagonal = radius * core::f64::consts::FRAC_1_SQRT_2;
    for off in [0.8, 3.0, 6.0, 10.0, 15.0] {
        let (far, near) = (radius + ARM + off, diagonal + off);
        let tries = [
            ([near, near], Anchor::Start),
            ([near, -near - height], Anchor::Start),
            ([-near, near], Anchor::End),
            ([-near, -near - height], Anchor::End),
            ([far, -height / 2.0], Anchor::Start),
            ([-far, -height / 2.0], Anchor::End),
            ([0.0, far], Anchor::Middle),
            ([0.0, -far - height], Anchor::Middle),
        ];
        for ([right, up], anchor) in tries {
            let text = Text::new(words, [at[0] + right, at[1] + up]).lettered(lettering).anchored(anchor);
            let middle = [right, if up > 0.0 { up - 0.5 } else { up + height + 0.5 }];
            let reach = libm::hypot(middle[0], middle[1]).max(1e-9);
            let start = [0, 1].map(|axis| at[axis] + middle[axis] / reach * radius);
            let tip = [at[0] + middle[0], at[1] + middle[1]];
            let needs_leader = off > 1.0 && anchor != Anchor::Middle && up.abs() > height;
            if !occupied.is_free_by(&text, 1.2) || (needs_leader && !occupied.is_clear(start, tip)) {
                continue;
            }
            occupied.take(&text);
            if needs_leader {
                placed.line(start, tip, Pen::Thin);
                occupied.take_line(start, tip);
            }
            placed.text(text);
            return;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hole_over_the_seam_is_drawn_in_halves_at_both_ends() {
        let on_paper = |x: f64| x * 1.01;
        let tube = Unrolled { circumference: 100.0, on_paper: &on_paper };
        let outline: Vec<Point> = (0..64)
            .map(|step| f64::from(step) / 64.0 * core::f64::consts::TAU)
            .map(|angle| [99.0 + 5.0 * angle.cos(), 20.0 + 5.0 * angle.sin()])
            .collect();
        let mut drawing = Drawing::default();
        let centre = tube.hole([99.0, 20.0], 10.0, &outline, &mut drawing);
        assert!((centre[0] - 99.99).abs() < 1e-9);
        let edges = drawing.paths().filter(|path| path.pen == Some(Pen::Edge));
        let points: Vec<Point> = edges.flat_map(Path::points).collect();
        let least = points.iter().map(|p| p[0]).fold(f64::MAX, f64::min);
        let most = points.iter().map(|p| p[0]).fold(f64::MIN, f64::max);
        assert!((least, most) == (0.0, 101.0));
        // The right edge of the hole, 4 mm past the seam, stands 4 mm right of the strip's left edge.
        let right = points.iter().map(|p| p[0]).filter(|x| *x < 50.0).fold(f64::MIN, f64::max);
        assert!((right - 4.04).abs() < 1e-9);
    }
}
