//! Numbers beside a view, each with a leader to its part; no leader crosses another.

use super::assign::assign;
use crate::drawing::{Anchor, Drawing, Ink, Lettering, Path, Pen, Point, Text, Weight};
use crate::render::Letters;

/// From one number of a column to the next, mm.
const PITCH: f64 = 3.3;
/// From the view to where leaders turn level, and from there to the number, mm.
const GAP: f64 = 4.5;
const SHELF: f64 = 2.0;
const BEFORE: f64 = 0.7;
/// Radius of the dot in which a leader ends (ISO 128-22: within an outline), mm.
const DOT: f64 = 0.4;

/// A number and where its leader ends.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::pack) struct Label {
    pub(in crate::pack) words: String,
    pub(in crate::pack) at: Point,
}

/// The side of a view on which a column of numbers stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::pack) enum Side {
    Left,
    Right,
}

/// A column of places for numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::pack) struct Column {
    pub(in crate::pack) side: Side,
    /// The edge of the view that it stands beside.
    pub(in crate::pack) edge: f64,
    /// Lowest and highest place.
    pub(in crate::pack) low: f64,
    pub(in crate::pack) high: f64,
}

impl Column {
    /// How many numbers it has room for.
    pub(in crate::pack) fn capacity(&self) -> usize {
        places(self.high - self.low)
    }

    fn outwards(&self) -> f64 {
        if self.side == Side::Left { -1.0 } else { 1.0 }
    }

    fn ports(self) -> impl Iterator<Item = Port> {
        let x = self.edge + self.outwards() * GAP;
        let mut y = self.low;
        (0..self.capacity()).map(move |_| {
            let port = Port { column: self, at: [x, y] };
            y += PITCH;
            port
        })
    }
}

/// How many numbers stand over one another in such a height, mm.
pub(in crate::pack) fn places(height: f64) -> usize {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let count = (height / PITCH).floor().max(0.0) as usize + 1;
    count
}

/// Where a leader turns level.
#[derive(Clone, Copy)]
struct Port {
    column: Column,
    at: Point,
}

/// What a column takes beside a view, mm.
pub(in crate::pack) fn width<'a>(letters: &Letters, words: impl Iterator<Item = &'a str>) -> f64 {
    let widest = words.map(|words| letters.width(words, Lettering::Small, Weight::Bold)).fold(0.0, f64::max);
    GAP + SHELF + BEFORE + widest + 1.0
}

/// Draws the numbers in the columns. Those for which there is no room are left out, the last ones first.
///
/// Leaders are straight and as short together as they can be: of two that cross, the ends could be changed to make both shorter.
pub(in crate::pack) fn draw(labels: &[Label], columns: &[Column], drawing: &mut Drawing) {
    let ports: Vec<Port> = columns.iter().flat_map(|column| column.ports()).collect();
    let labels = &labels[..labels.len().min(ports.len())];
    let costs: Vec<Vec<f64>> = labels
        .iter()
        .map(|label| ports.iter().map(|port| libm::hypot(port.at[0] - label.at[0], port.at[1] - label.at[1])).collect())
        .collect();
    for (label, port) in labels.iter().zip(assign(&costs)) {
        let Port { column, at: [x, y] } = ports[port];
        let out = column.outwards();
        let end = x + out * SHELF;
        drawing.path(Path::polyline(&[label.at, [x, y], [end, y]], Pen::Thin));
        drawing.path(Path { pen: None, fill: Some(Ink::Black), ..Path::circle(label.at, DOT, Pen::Thin) });
        let anchor = if column.side == Side::Left { Anchor::End } else { Anchor::Start };
        let at = [end + out * BEFORE, y - Lettering::Small.height() / 2.0];
        drawing.text(Text::new(label.words.as_str(), at).lettered(Lettering::Small).bold().anchored(anchor));
    }
}
