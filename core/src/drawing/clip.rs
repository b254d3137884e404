//! The part of a drawing that lies within a window.

use super::{Area, Drawing, Item, Path, Point, Segment, Text};

/// Chords into which a curve is cut before it is clipped.
const CHORDS: u32 = 24;

impl Drawing {
    /// What lies within `window`: lines cut at its border, filled areas and texts that lie in it whole. `area_of` gives the area
    /// of a text.
    #[must_use]
    pub fn within(&self, window: Area, area_of: impl Fn(&Text) -> Area) -> Self {
        let mut inside = Self::default();
        for item in &self.items {
            match item {
                Item::Path(path) if path.fill.is_some() => {
                    if path.points().all(|point| holds(&window, point)) {
                        inside.path(path.clone());
                    }
                }
                Item::Path(path) => inside.items.extend(clipped(path, &window).map(Item::Path)),
                Item::Text(text) => {
                    let area = area_of(text);
                    if holds(&window, [area.x, area.y]) && holds(&window, [area.right(), area.top()]) {
                        inside.text(text.clone());
                    }
                }
            }
        }
        inside
    }
}

fn holds(window: &Area, [x, y]: Point) -> bool {
    x >= window.x && x <= window.right() && y >= window.y && y <= window.top()
}

/// The pieces of a line within the window as one path; `None` when nothing is in it.
fn clipped(path: &Path, window: &Area) -> Option<Path> {
    let mut segments: Vec<Segment> = Vec::new();
    let mut last: Option<Point> = None;
    for (from, to) in path.chords(CHORDS) {
        let Some((a, b)) = inside(from, to, window) else { continue };
        if last != Some(a) {
            segments.push(Segment::Move(a));
        }
        segments.push(Segment::Line(b));
        last = Some(b);
    }
    (!segments.is_empty()).then_some(Path { segments, pen: path.pen, fill: None })
}

/// Clipping after Liang and Barsky.
fn inside(from: Point, to: Point, window: &Area) -> Option<(Point, Point)> {
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    let step = [to[0] - from[0], to[1] - from[1]];
    for (axis, low, high) in [(0, window.x, window.right()), (1, window.y, window.top())] {
        if step[axis] == 0.0 {
            if from[axis] < low || from[axis] > high {
                return None;
            }
            continue;
        }
        let (one, other) = ((low - from[axis]) / step[axis], (high - from[axis]) / step[axis]);
        enter = enter.max(one.min(other));
        leave = leave.min(one.max(other));
    }
    if enter > leave {
        return None;
    }
    let at = |share: f64| {
        // The ends as they were, so that chords inside stay joined.
        match share {
            0.0 => from,
            1.0 => to,
            _ => [from[0] + share * step[0], from[1] + share * step[1]],
        }
    };
    Some((at(enter), at(leave)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Pen;

    #[test]
    fn lines_end_at_the_window_and_what_is_joined_stays_joined() {
        let mut drawing = Drawing::default();
        drawing.path(Path::polyline(&[[-5.0, 5.0], [5.0, 5.0], [5.0, 20.0], [8.0, 20.0], [8.0, 2.0]], Pen::Cut));
        let window = Area { x: 0.0, y: 0.0, width: 10.0, height: 10.0 };
        let inside = drawing.within(window, |_| window);
        let Some(Item::Path(path)) = inside.items.first() else { panic!("a path") };
        assert_eq!(
            path.segments,
            vec![
                Segment::Move([0.0, 5.0]),
                Segment::Line([5.0, 5.0]),
                Segment::Line([5.0, 10.0]),
                Segment::Move([8.0, 10.0]),
                Segment::Line([8.0, 2.0]),
            ]
        );
    }

    #[test]
    fn a_circle_keeps_its_radius() {
        let mut drawing = Drawing::default();
        drawing.path(Path::circle([0.0, 0.0], 20.0, Pen::Cut));
        let window = Area { x: 0.0, y: -30.0, width: 30.0, height: 60.0 };
        let inside = drawing.within(window, |_| window);
        for point in inside.paths().flat_map(Path::points) {
            assert!(point[0] >= 0.0);
            assert!((point[0].hypot(point[1]) - 20.0).abs() < 0.006, "{point:?}");
        }
    }
}
