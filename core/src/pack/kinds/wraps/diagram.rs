//! Two small diagrams beside a wrap: the part from the side with the lengths that set the wrap out, and the clock of both ends.

use super::{Subject, side};
use crate::drawing::{Anchor, Area, Drawing, Lettering, Path, Pen, Placement, Point, Text, Turn};
use crate::pack::layout::dimension::{Side, level};
use crate::pack::layout::figures::Figures;
use crate::sheets::{BendSide, Datum, FlatSide, Wrap};
use crate::words::groups::wrap_diagram::WrapDiagram;

/// Width of the diagram of lengths, mm.
pub(super) const WIDTH: f64 = 60.0;
/// Width of the clock, mm.
pub(super) const CLOCK: f64 = 30.0;
/// Height of both, mm.
pub(super) const HEIGHT: f64 = 37.0;
/// Radius of the clock, or half the longer side of a rectangular one, mm.
const RADIUS: f64 = 9.0;

/// Long points nearer than this round the tube are shown as one, degrees.
const SAME: f64 = 0.5;

/// The part lying on its side, this end to the right: overall above it, set-out below it.
pub(super) fn lengths(subject: Subject, figures: Figures, at: Point) -> Drawing {
    let (wrap, page, say) = (subject.wrap, &figures.words.page, &figures.words.wrap_diagram);
    let mut drawing = Drawing::default();
    let side = side::view(subject, side::long_point_up(subject));
    let left = at[0] + (WIDTH - side::LONG) / 2.0;
    let axis = at[1] + 19.0;
    let p = |x: f64, y: f64| [left + x, axis + y];
    drawing.place(side.drawing, Placement { at: [left, axis], turn: Turn::None });
    let (low, high) = (-side.half, side.half);
    drawing.line(p(side.base, -12.8), p(side.base, high + 1.5), Pen::Thin);

    let overall = page.overall(figures.length(wrap.overall));
    level(&mut drawing, p(side.other, 9.0), p(side.this, 0.0)[0], &overall, Side::Above);
    for x in [side.other, side.this] {
        drawing.line(p(x, high + 0.8), p(x, 10.5), Pen::Thin);
    }
    let from = match wrap.set_out.datum {
        Datum::OtherEnd => {
            drawing.line(p(side.other, -12.8), p(side.other, low - 0.8), Pen::Thin);
            side.other
        }
        Datum::LongEnd { by } => {
            let x = (side.other - by / side.reduction).max(0.0);
            drawing.line(p(x, -12.8), p(x, high + 1.5), Pen::Thin);
            x
        }
        Datum::TangentMark { bend, side: which, .. } => {
            let x = (side.base - wrap.set_out.distance / side.reduction).max(10.0);
            drawing.line(p(x, -12.8), p(x, high + 1.5), Pen::Thin);
            let words = match which {
                BendSide::Start => say.bend_starts(bend),
                BendSide::End => say.bend_ends(bend),
            };
            let at = p(x, high + 2.0);
            drawing.text(Text::new(words, at).lettered(Lettering::Small).anchored(Anchor::Middle));
            x
        }
    };
    let set_out = say.set_out(figures.short_length(wrap.set_out.distance));
    level(&mut drawing, p(from, -11.3), p(side.base, 0.0)[0], &set_out, Side::Above);
    let small = |words: String, x: f64, y: f64, anchor: Anchor| {
        Text::new(words, p(x, y)).lettered(Lettering::Small).anchored(anchor)
    };
    drawing.text(small(say.base().to_owned(), side.base + 1.2, -11.9, Anchor::Start));
    drawing.text(small(page.end(figures.end(wrap.end.other())), 0.0, -17.2, Anchor::Start));
    drawing.text(small(say.this_end(figures.end(wrap.end)), side::LONG, -17.2, Anchor::End));
    let is_bent = subject.row.is_some_and(|row| row.bends > 0);
    let mut words = vec![page.scale(figures.short_tenths(side.reduction))];
    words.extend(is_bent.then(|| say.drawn_straight().to_owned()));
    words.extend(side.is_broken.then(|| say.middle_left_out().to_owned()));
    drawing.text(small(words.join(", "), side::LONG / 2.0, 15.0, Anchor::Middle));
    drawing
}

/// The tube seen from its `from` end with the long points of both cuts.
pub(super) fn clock(wrap: &Wrap, say: &WrapDiagram, at: Point) -> Drawing {
    let mut drawing = Drawing::default();
    if wrap.long_point.is_none() && wrap.other_long_point.is_none() {
        return drawing;
    }
    let centre = [at[0] + CLOCK / 2.0, at[1] + 22.5];
    let outline = Outline::of(wrap);
    // Clockwise from the top, as end 1 is looked at.
    let on = |degrees: f64, off: f64| {
        let (sin, cos) = libm::sincos(degrees.to_radians());
        let reach = outline.reach([sin, cos]) + off;
        [centre[0] + reach * sin, centre[1] + reach * cos]
    };
    match outline.half {
        None => drawing.path(Path::circle(centre, RADIUS, Pen::Edge)),
        Some(([across, up], corner)) => {
            let [x, y] = [centre[0] - across, centre[1] - up];
            let area = Area { x, y, width: 2.0 * across, height: 2.0 * up };
            drawing.path(Path::rounded(area, corner, Pen::Edge));
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
    let is_one = |a: f64, b: f64| ((a - b + 180.0).rem_euclid(360.0) - 180.0).abs() < SAME;
    let marks = match (wrap.long_point, wrap.other_long_point) {
        (Some(this), Some(other)) if is_one(this.clock_deg, other.clock_deg) => {
            vec![(this, Pen::Cut, say.heavy_is_both())]
        }
        (this, other) => {
            let this = this.map(|point| (point, Pen::Cut, say.heavy_is_this()));
            this.into_iter().chain(other.map(|point| (point, Pen::Hidden, say.dashed_is_other()))).collect()
        }
    };
    for (point, pen, what) in marks {
        drawing.line(centre, on(point.clock_deg, 0.0), pen);
        words.push(what);
    }
    words.push(say.seen_from());
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
        let [x, y] = direction.map(f64::abs);
        let middle = half.map(|half| half - corner);
        // Out through the side at the right, the upper one, or the corner between them.
        let (right, top) = (half[0] / x, half[1] / y);
        if right * y <= middle[1] {
            return right;
        }
        if top * x <= middle[0] {
            return top;
        }
        let along = x * middle[0] + y * middle[1];
        let aside = x * middle[1] - y * middle[0];
        along + (corner * corner - aside * aside).max(0.0).sqrt()
    }
}
