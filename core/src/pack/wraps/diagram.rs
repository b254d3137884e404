//! Two small diagrams beside a wrap: the lengths that set it out, and the clock of both ends. Neither is to scale.

use crate::drawing::{Anchor, Drawing, Lettering, Path, Pen, Point, Text};
use crate::pack::figures::{end_name, length, other_end, short_length};
use crate::sheets::{CutRow, Datum, Wrap};

/// Width of the diagram of lengths, mm.
pub(super) const WIDTH: f64 = 60.0;
/// Width of the clock, mm.
pub(super) const CLOCK: f64 = 30.0;
/// Height of both, mm.
pub(super) const HEIGHT: f64 = 38.0;

/// The part lying down, this end to the right: overall above it, set-out below it.
pub(super) fn lengths(wrap: &Wrap, row: Option<&CutRow>, at: Point) -> Drawing {
    let mut drawing = Drawing::default();
    let p = |x: f64, y: f64| [at[0] + x, at[1] + y];
    let (low, high) = (15.0, 24.0);
    let other_square = wrap.other_long_point.is_none();
    let left_low = if other_square { 2.0 } else { 9.0 };
    let right_high = if wrap.long_point.is_none() { 58.0 } else { 50.0 };
    let base = 42.0;
    drawing.path(Path::polyline(&[p(left_low, low), p(58.0, low)], Pen::Edge));
    drawing.path(Path::polyline(&[p(2.0, high), p(right_high, high)], Pen::Edge));
    drawing.line(p(2.0, high), p(left_low, low), Pen::Edge);
    drawing.line(p(right_high, high), p(58.0, low), Pen::Cut);
    drawing.line(p(base, low - 8.0), p(base, high + 1.5), Pen::Thin);

    let overall = format!("overall {}", length(wrap.overall));
    dimension(&mut drawing, p(2.0, high + 6.0), p(58.0, high + 6.0), &overall);
    drawing.line(p(2.0, high + 0.8), p(2.0, high + 7.5), Pen::Thin);
    drawing.line(p(58.0, low + 0.8), p(58.0, high + 7.5), Pen::Thin);

    let from = match wrap.set_out.datum {
        Datum::OtherEnd => {
            drawing.line(p(2.0, low - 8.0), p(2.0, high - 0.8), Pen::Thin);
            2.0
        }
        Datum::TangentMark { bend } => {
            drawing.line(p(12.0, low - 8.0), p(12.0, high + 1.5), Pen::Thin);
            let words = format!("bend {bend}");
            drawing.text(Text::new(words, p(13.2, low + 3.4)).lettered(Lettering::Small));
            12.0
        }
    };
    let set_out = format!("set-out {} mm", short_length(wrap.set_out.distance));
    dimension(&mut drawing, p(from, low - 6.5), p(base, low - 6.5), &set_out);
    let small = |words: String, x: f64, y: f64, anchor: Anchor| {
        Text::new(words, p(x, y)).lettered(Lettering::Small).anchored(anchor)
    };
    drawing.text(small("base".to_owned(), base - 1.2, low + 3.4, Anchor::End));
    drawing.text(small(format!("{} end", end_name(other_end(wrap.end))), 2.0, low - 13.5, Anchor::Start));
    drawing.text(small(format!("{} end, this wrap", end_name(wrap.end)), 58.0, low - 13.5, Anchor::End));
    let bent = row.is_some_and(|row| row.bends > 0);
    drawing.text(small(
        if bent { "drawn straight, not to scale".to_owned() } else { "not to scale".to_owned() },
        30.0,
        high + 11.0,
        Anchor::Middle,
    ));
    drawing
}

/// The tube seen from its `from` end with the long points of both cuts.
pub(super) fn clock(wrap: &Wrap, at: Point) -> Drawing {
    let mut drawing = Drawing::default();
    if wrap.long_point.is_none() && wrap.other_long_point.is_none() {
        return drawing;
    }
    let centre = [at[0] + CLOCK / 2.0, at[1] + 22.5];
    let radius = 9.0;
    // Clockwise from the top, as the from end is looked at.
    let on = |degrees: f64, radius: f64| {
        let angle = degrees.to_radians();
        [centre[0] + radius * libm::sin(angle), centre[1] + radius * libm::cos(angle)]
    };
    drawing.path(Path::circle(centre, radius, Pen::Edge));
    for (number, anchor, drop) in [
        (0.0, Anchor::Middle, 0.0),
        (90.0, Anchor::Start, -0.9),
        (180.0, Anchor::Middle, -1.8),
        (270.0, Anchor::End, -0.9),
    ] {
        drawing.line(on(number, radius), on(number, radius + 1.2), Pen::Thin);
        let [x, y] = on(number, radius + 2.0);
        let text = Text::new(format!("{number}°"), [x, y + drop]);
        drawing.text(text.lettered(Lettering::Small).anchored(anchor));
    }
    let mut words = Vec::new();
    for (point, pen, what) in
        [(wrap.long_point, Pen::Cut, "heavy: this end"), (wrap.other_long_point, Pen::Hidden, "dashed: other end")]
    {
        if let Some(point) = point {
            drawing.line(centre, on(point.clock_deg, radius), pen);
            words.push(what.to_owned());
        }
    }
    words.push("seen from the from end".to_owned());
    for (index, line) in words.into_iter().enumerate() {
        let up = [6.2, 3.1, 0.0].get(index).copied().unwrap_or(0.0);
        let text = Text::new(line, [centre[0], at[1] + up]).lettered(Lettering::Small);
        drawing.text(text.anchored(Anchor::Middle));
    }
    drawing
}

/// A dimension line with arrowheads inside and its figure above it.
fn dimension(drawing: &mut Drawing, from: Point, to: Point, words: &str) {
    drawing.line(from, to, Pen::Thin);
    for (tip, away) in [(from, 2.4), (to, -2.4)] {
        drawing.path(Path::triangle([tip, [tip[0] + away, tip[1] + 0.6], [tip[0] + away, tip[1] - 0.6]]));
    }
    let middle = [f64::midpoint(from[0], to[0]), from[1] + 1.1];
    drawing.text(Text::new(words, middle).anchored(Anchor::Middle));
}
