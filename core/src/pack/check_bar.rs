//! The bars by which the scale of a print is checked.

use crate::drawing::{Drawing, Lettering, Path, Pen, Point, Text, Turn};

/// Length of both bars between the outer ticks, mm.
pub(super) const LENGTH: f64 = 100.0;
/// How far the print may be off in that length, mm.
pub(super) const ALLOWED: f64 = 0.5;

/// Half the length of a tick at the end.
const TICK: f64 = 2.0;

/// A bar across the page from `start` to the right, with what to measure written above it; 8 mm high in all.
pub(super) fn across(start: Point) -> Drawing {
    let [x, y] = start;
    let mut drawing = bar(start, [1.0, 0.0]);
    let say = format!("Measure between the outer ticks: 100 mm across, within {ALLOWED} mm. If not, do not cut.");
    drawing.text(Text::new(say, [x, y + 3.4]).lettered(Lettering::Small));
    drawing
}

/// A bar up the page from `start`, with what to measure written to its left; it needs 6 mm to the left and 2 mm to the right.
pub(super) fn upright(start: Point) -> Drawing {
    let [x, y] = start;
    let mut drawing = bar(start, [0.0, 1.0]);
    let say = format!("Measure between the outer ticks: 100 mm up, within {ALLOWED} mm. If not, do not cut.");
    let text = Text::new(say, [x - 3.4, y]).lettered(Lettering::Small);
    drawing.text(text.turned(Turn::Quarter));
    drawing
}

fn bar([x, y]: Point, [right, up]: Point) -> Drawing {
    let mut drawing = Drawing::default();
    let at = |along: f64, aside: f64| [x + along * right - aside * up, y + along * up + aside * right];
    drawing.path(Path::polyline(&[at(0.0, 0.0), at(LENGTH, 0.0)], Pen::Measure));
    for step in 0..=10_u8 {
        let along = f64::from(step) * LENGTH / 10.0;
        let reach = if step % 10 == 0 { TICK } else { TICK / 2.0 };
        drawing.line(at(along, -reach), at(along, reach), Pen::Measure);
    }
    drawing
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_bars_are_a_hundred_millimetres() {
        for (drawing, axis) in [(across([20.0, 20.0]), 0), (upright([20.0, 20.0]), 1)] {
            let ends: Vec<Point> = drawing.paths().next().map(|path| path.points().collect()).unwrap_or_default();
            assert!((ends[1][axis] - ends[0][axis] - 100.0).abs() < 1e-12);
            assert_eq!(ends[1][1 - axis], ends[0][1 - axis]);
        }
    }
}
