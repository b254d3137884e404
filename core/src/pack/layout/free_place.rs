//! Finding free places for small labels among the lines of a drawing.

use crate::drawing::{Area, Drawing, Item, Lettering, Point, Text, Weight};
use crate::render::Letters;

/// Clearance kept round a label, mm.
const CLEAR: f64 = 0.35;

/// Chords that stand for a curve.
const CHORDS: u32 = 8;

/// Width of the stripes by which lines are found, mm.
const STRIPE: f64 = 5.0;

/// What already stands on a drawing.
pub(in crate::pack) struct Occupied<'a> {
    letters: &'a Letters,
    bounds: Area,
    texts: Vec<Area>,
    /// For each upright stripe of the bounds the lines that come into it.
    stripes: Vec<Vec<(Point, Point)>>,
}

impl<'a> Occupied<'a> {
    /// All texts and lines of a drawing; labels must stay within `bounds`.
    pub(in crate::pack) fn new(letters: &'a Letters, bounds: Area, drawing: &Drawing) -> Self {
        let count = stripe((bounds.width + 2.0 * CLEAR).max(0.0)) + 1;
        let mut occupied = Self { letters, bounds, texts: Vec::new(), stripes: vec![Vec::new(); count] };
        for item in &drawing.items {
            match item {
                Item::Text(text) => occupied.texts.push(letters.area(text)),
                Item::Path(path) => {
                    for (from, to) in path.chords(CHORDS) {
                        occupied.take_line(from, to);
                    }
                }
            }
        }
        occupied
    }

    /// Width of a text, mm.
    pub(in crate::pack) fn width(&self, text: &str, lettering: Lettering) -> f64 {
        self.letters.width(text, lettering, Weight::Regular)
    }

    /// Whether a text would stand clear of everything.
    pub(in crate::pack) fn is_free(&self, text: &Text) -> bool {
        self.is_clear_area(self.letters.area(text))
    }

    /// Whether a text would stand clear with so much more to its left and right, so that it is not read on from another.
    pub(in crate::pack) fn is_free_by(&self, text: &Text, aside: f64) -> bool {
        let area = self.letters.area(text);
        [0.0, -aside, aside].into_iter().all(|by| self.is_clear_area(Area { x: area.x + by, ..area }))
    }

    fn is_clear_area(&self, area: Area) -> bool {
        let area = area.inset(-CLEAR);
        area.x >= self.bounds.x
            && area.right() <= self.bounds.right()
            && area.y >= self.bounds.y
            && area.top() <= self.bounds.top()
            && !self.texts.iter().any(|other| other.overlaps(&area))
            && !self.within(area.x, area.right()).flatten().any(|(a, b)| area.meets_segment(*a, *b))
    }

    /// Whether a leader would cross no text.
    pub(in crate::pack) fn is_clear(&self, from: Point, to: Point) -> bool {
        !self.texts.iter().any(|area| area.meets_segment(from, to))
    }

    /// Takes a text's place.
    pub(in crate::pack) fn take(&mut self, text: &Text) {
        self.texts.push(self.letters.area(text));
    }

    /// Takes a line's place.
    pub(in crate::pack) fn take_line(&mut self, from: Point, to: Point) {
        let span = self.span(from[0].min(to[0]), from[0].max(to[0]));
        for stripe in &mut self.stripes[span] {
            stripe.push((from, to));
        }
    }

    fn within(&self, from: f64, to: f64) -> impl Iterator<Item = &Vec<(Point, Point)>> {
        self.stripes[self.span(from, to)].iter()
    }

    /// The stripes between two places across the drawing.
    fn span(&self, from: f64, to: f64) -> std::ops::Range<usize> {
        let [from, to] = [from, to].map(|x| stripe((x - self.bounds.x + CLEAR).max(0.0)));
        from.min(self.stripes.len())..(to + 1).min(self.stripes.len())
    }
}

/// Number of the stripe that lies so far to the right of the first one's left edge.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn stripe(x: f64) -> usize {
    (x / STRIPE) as usize
}
