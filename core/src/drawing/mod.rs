//! A neutral drawing in millimetres, before it becomes PDF or SVG.
//!
//! The origin is the lower left corner, `x` runs right and `y` up, 1 unit is 1 mm. A drawing is a list of items in the order in
//! which they are laid down; all is black on white, but for what stands already where something is added, which is grey.

mod clip;
mod curve;
mod path;
mod placement;
mod text;

pub use path::{Ink, Path, Pen, Segment};
pub use placement::{Placement, Turn};
pub use text::{Anchor, Lettering, Text, Weight};

/// A point in mm.
pub type Point = [f64; 2];

/// An upright rectangle in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Area {
    /// Left edge.
    pub x: f64,
    /// Lower edge.
    pub y: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

impl Area {
    /// Right edge.
    #[must_use]
    pub fn right(&self) -> f64 {
        self.x + self.width
    }

    /// Upper edge.
    #[must_use]
    pub fn top(&self) -> f64 {
        self.y + self.height
    }

    /// The area without a border of `by` mm on all four sides.
    #[must_use]
    pub fn inset(&self, by: f64) -> Self {
        Self { x: self.x + by, y: self.y + by, width: self.width - 2.0 * by, height: self.height - 2.0 * by }
    }

    /// Whether two areas share more than an edge.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        self.x < other.right() && other.x < self.right() && self.y < other.top() && other.y < self.top()
    }

    /// Whether a straight segment touches the area (Liang and Barsky's clipping test).
    #[must_use]
    pub fn meets_segment(&self, a: Point, b: Point) -> bool {
        let beside = |a: f64, b: f64, low: f64, high: f64| (a < low && b < low) || (a > high && b > high);
        if beside(a[0], b[0], self.x, self.right()) || beside(a[1], b[1], self.y, self.top()) {
            return false;
        }
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        for (start, step, low, high) in
            [(a[0], b[0] - a[0], self.x, self.right()), (a[1], b[1] - a[1], self.y, self.top())]
        {
            if step == 0.0 {
                if start < low || start > high {
                    return false;
                }
                continue;
            }
            let (first, second) = ((low - start) / step, (high - start) / step);
            enter = enter.max(first.min(second));
            leave = leave.min(first.max(second));
        }
        enter <= leave
    }
}

/// One thing drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// Lines and curves.
    Path(Path),
    /// A single line of text.
    Text(Text),
}

/// A drawing: its items in order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Drawing {
    /// The items, first one lowest.
    pub items: Vec<Item>,
}

impl Drawing {
    /// Adds a path.
    pub fn path(&mut self, path: Path) {
        self.items.push(Item::Path(path));
    }

    /// Adds a line of text; empty text is left out.
    pub fn text(&mut self, text: Text) {
        if !text.content.is_empty() {
            self.items.push(Item::Text(text));
        }
    }

    /// Adds a straight line.
    pub fn line(&mut self, from: Point, to: Point, pen: Pen) {
        self.path(Path::polyline(&[from, to], pen));
    }

    /// Adds all items of another drawing, moved and turned.
    pub fn place(&mut self, mut other: Self, placement: Placement) {
        for item in &mut other.items {
            match item {
                Item::Path(path) => path.place(placement),
                Item::Text(text) => text.place(placement),
            }
        }
        self.append(other);
    }

    /// Adds all items of another drawing as they stand.
    pub fn append(&mut self, mut other: Self) {
        if self.items.is_empty() {
            *self = other;
        } else {
            self.items.append(&mut other.items);
        }
    }

    /// All texts, in order.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        self.items.iter().filter_map(|item| match item {
            Item::Text(text) => Some(text),
            Item::Path(_) => None,
        })
    }

    /// All paths, in order.
    pub fn paths(&self) -> impl Iterator<Item = &Path> {
        self.items.iter().filter_map(|item| match item {
            Item::Path(path) => Some(path),
            Item::Text(_) => None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_segment_meets_an_area_only_where_it_does() {
        let area = Area { x: 0.0, y: 0.0, width: 2.0, height: 1.0 };
        assert!(area.meets_segment([-1.0, 0.5], [3.0, 0.5]));
        assert!(area.meets_segment([0.5, 0.5], [0.6, 0.6]));
        assert!(area.meets_segment([-1.0, 1.5], [1.0, -0.5]));
        assert!(!area.meets_segment([-1.0, 1.5], [1.0, 1.5]));
        assert!(!area.meets_segment([-2.0, 0.0], [0.0, 3.0]));
    }

    #[test]
    fn a_quarter_turn_carries_right_to_up() {
        let mut inner = Drawing::default();
        inner.line([0.0, 0.0], [10.0, 1.0], Pen::Rule);
        let mut outer = Drawing::default();
        outer.place(inner, Placement { at: [100.0, 50.0], turn: Turn::Quarter });
        let ends: Vec<_> = outer.paths().flat_map(Path::points).collect();
        assert_eq!(ends, vec![[100.0, 50.0], [99.0, 60.0]]);
    }
}
