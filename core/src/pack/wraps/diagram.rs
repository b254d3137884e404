//! Two small diagrams beside a wrap: the lengths that set it out, and the clock of both ends. Neither is to scale.

use crate::drawing::{Anchor, Drawing, Lettering, Path, Pen, Point, Text};
use crate::pack::dimension::{Side, level};
use crate::pack::figures::{end_name, length, other_end, short_length};
use crate::sheets::{CutRow, Datum, FlatSide, Wrap};

/// Width of the diagram of lengths, mm.
pub(super) const WIDTH: f64 = 60.0;
/// Width of the clock, mm.
pub(super) const CLOCK: f64 = 30.0;
/// Height of both, mm.
pub(super) const HEIGHT: f64 = 38.0;
/// Radius of the clock, or half the longer side of a rectangular one, mm.
const RADIUS: f64 = 9.0;

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
    level(&mut drawing, p(2.0, high + 6.0), p(58.0, 0.0)[0], &overall, Side::Above);
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
    level(&mut drawing, p(from, low - 6.5), p(base, 0.0)[0], &set_out, Side::Above);
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
    let outline = Outline::of(wrap);
    // Clockwise from the top, as the from end is looked at.
    let on = |degrees: f64, off: f64| {
        let (sin, cos) = libm::sincos(degrees.to_radians());
        let reach = outline.reach([sin, cos]) + off;
        [centre[0] + reach * sin, centre[1] + reach * cos]
    };
    match outline.half {
        None => drawing.path(Path::circle(centre, RADIUS, Pen::Edge)),
        Some(_) => {
            let edge: Vec<Point> = (0..=180_u16).map(|step| on(f64::from(step) * 2.0, 0.0)).collect();
            drawing.path(Path::polyline(&edge, Pen::Edge));
        }
    }
    for (number, anchor, drop) in [
        (0.0, Anchor::Middle, 0.0),
        (90.0, Anchor::Start, -0.9),
        (180.0, Anchor::Middle, -1.8),
        (270.0, Anchor::End, -0.9),
    ] {
        drawing.line(on(number, 0.0), on(number, 1.2), Pen::Thin);
        let [x, y] = on(number, 2.0);
        let text = Text::new(format!("{number}°"), [x, y + drop]);
        drawing.text(text.lettered(Lettering::Small).anchored(anchor));
    }
    let mut words = Vec::new();
    for (point, pen, what) in
        [(wrap.long_point, Pen::Cut, "heavy: this end"), (wrap.other_long_point, Pen::Hidden, "dashed: other end")]
    {
        if let Some(point) = point {
            drawing.line(centre, on(point.clock_deg, 0.0), pen);
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

/// Outer corner radius of a rectangular tube, from what its flat sides leave of the way round it, mm.
pub(super) fn corner_radius(flats: &[FlatSide], circumference: f64) -> f64 {
    let flat: f64 = flats.iter().map(|side| side.to - side.from).sum();
    (circumference - flat) / core::f64::consts::TAU
}

/// The outline of a tube as the clock shows it.
struct Outline {
    /// Half the size across and up, and the corner radius, mm on paper; `None` for a round tube.
    half: Option<([f64; 2], f64)>,
}

impl Outline {
    fn of(wrap: &Wrap) -> Self {
        if wrap.flats.is_empty() {
            return Self { half: None };
        }
        let corner = corner_radius(&wrap.flats, wrap.circumference);
        let side = |clock_deg: f64| {
            let flats = wrap.flats.iter().filter(|side| (side.clock_deg - clock_deg).abs() < 1.0);
            flats.map(|side| side.to - side.from).sum::<f64>() / 2.0 + corner
        };
        // The side at 0 deg lies level at the top: its length is the size across.
        let half = [side(0.0), side(90.0)];
        let scale = RADIUS / half[0].max(half[1]);
        Self { half: Some((half.map(|size| size * scale), corner * scale)) }
    }

    /// How far the outline lies from the middle in a direction, mm on paper.
    fn reach(&self, direction: Point) -> f64 {
        let Some((half, corner)) = self.half else {
            return RADIUS;
        };
        let is_inside = |far: f64| {
            let out = [0, 1].map(|axis| (far * direction[axis].abs() - half[axis] + corner).max(0.0));
            libm::hypot(out[0], out[1]) <= corner
        };
        // Halved until it is far finer than the line is wide.
        let (mut inside, mut outside) = (0.0, 2.0 * RADIUS);
        for _ in 0..40 {
            let middle = f64::midpoint(inside, outside);
            if is_inside(middle) { inside = middle } else { outside = middle }
        }
        inside
    }
}
