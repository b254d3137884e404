//! Dimension lines with their figures.

use crate::drawing::{Anchor, Drawing, Path, Pen, Point, Text, Turn};

/// Length and half width of an arrowhead, mm.
const HEAD: [f64; 2] = [2.4, 0.6];
/// From the line to its figure, mm.
const OFF: f64 = 1.1;

/// Where the figure of a level dimension stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::pack) enum Side {
    /// Above the line.
    Above,
    /// Below it.
    Below,
}

/// A level dimension line with arrowheads inside.
pub(in crate::pack) fn level(drawing: &mut Drawing, from: Point, to_x: f64, words: &str, side: Side) {
    let to = [to_x, from[1]];
    drawing.line(from, to, Pen::Thin);
    for (tip, away) in [(from, HEAD[0]), (to, -HEAD[0])] {
        let back = tip[0] + away;
        drawing.path(Path::triangle([tip, [back, tip[1] + HEAD[1]], [back, tip[1] - HEAD[1]]]));
    }
    let text = Text::new(words, [f64::midpoint(from[0], to_x), from[1]]).anchored(Anchor::Middle);
    let drop = match side {
        Side::Above => OFF,
        Side::Below => -OFF - text.lettering.height(),
    };
    drawing.text(Text { at: [text.at[0], text.at[1] + drop], ..text });
}

/// An upright dimension line, its figure to the left and reading upwards.
pub(in crate::pack) fn upright(drawing: &mut Drawing, from: Point, to_y: f64, words: &str) {
    let to = [from[0], to_y];
    drawing.line(from, to, Pen::Thin);
    for (tip, away) in [(from, HEAD[0]), (to, -HEAD[0])] {
        let back = tip[1] + away;
        drawing.path(Path::triangle([tip, [tip[0] + HEAD[1], back], [tip[0] - HEAD[1], back]]));
    }
    let at = [from[0] - OFF, f64::midpoint(from[1], to_y)];
    drawing.text(Text::new(words, at).anchored(Anchor::Middle).turned(Turn::Quarter));
}
