//! Finding free places for small labels among the lines of a drawing.

use crate::drawing::{Area, Drawing, Face, Item, Lettering, Point, Text};
use crate::render::Letters;

/// Clearance kept round a label, mm.
const CLEAR: f64 = 0.35;

/// Chords that stand for a curve.
const CHORDS: u32 = 8;

/// What already stands on a drawing.
pub(super) struct Occupied<'a> {
    letters: &'a Letters,
    bounds: Area,
    texts: Vec<Area>,
    lines: Vec<(Point, Point)>,
}

impl<'a> Occupied<'a> {
    /// All texts and lines of a drawing; labels must stay within `bounds`.
    pub(super) fn new(letters: &'a Letters, bounds: Area, drawing: &Drawing) -> Self {
        let mut occupied = Self { letters, bounds, texts: Vec::new(), lines: Vec::new() };
        for item in &drawing.items {
            match item {
                Item::Text(text) => occupied.texts.push(letters.area(text)),
                Item::Path(path) => occupied.lines.extend(path.chords(CHORDS)),
            }
        }
        occupied
    }

    /// Width of a text, mm.
    pub(super) fn width(&self, text: &str, lettering: Lettering) -> f64 {
        self.letters.width(text, lettering, Face::Regular)
    }

    /// Whether a text would stand clear of everything.
    pub(super) fn is_free(&self, text: &Text) -> bool {
        let area = self.letters.area(text).inset(-CLEAR);
        area.x >= self.bounds.x
            && area.right() <= self.bounds.right()
            && area.y >= self.bounds.y
            && area.top() <= self.bounds.top()
            && !self.texts.iter().any(|other| other.overlaps(&area))
            && !self.lines.iter().any(|(a, b)| area.meets_segment(*a, *b))
    }

    /// Whether a text would stand clear with so much more to its left and right, so that it is not read on from another.
    pub(super) fn is_free_by(&self, text: &Text, aside: f64) -> bool {
        let moved = |by: f64| Text { at: [text.at[0] + by, text.at[1]], ..text.clone() };
        [0.0, -aside, aside].into_iter().all(|by| self.is_free(&moved(by)))
    }

    /// Whether a leader would cross no text.
    pub(super) fn is_clear(&self, from: Point, to: Point) -> bool {
        !self.texts.iter().any(|area| area.meets_segment(from, to))
    }

    /// Takes a text's place.
    pub(super) fn take(&mut self, text: &Text) {
        self.texts.push(self.letters.area(text));
    }

    /// Takes a line's place.
    pub(super) fn take_line(&mut self, from: Point, to: Point) {
        self.lines.push((from, to));
    }
}
