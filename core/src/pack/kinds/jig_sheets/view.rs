//! The centreline of a bent member seen from the front and from the left, over the base plane.

use super::NumberedPlace;
use crate::drawing::{Anchor, Area, Drawing, Lettering, Path, Pen, Point, Text, Weight};
use crate::pack::layout::dimension::{Side, level, upright};
use crate::pack::layout::figures::Figures;
use crate::pack::layout::free_place::Occupied;
use crate::pack::layout::furniture::Furniture;
use crate::sheets::JigSheet;
use crate::words::groups::views::Views;

/// Least height of the views, mm.
pub(super) const LEAST: f64 = 60.0;
/// Space beside each view, above and below both, mm.
const SIDE: f64 = 14.0;
const ABOVE: f64 = 12.0;
const BELOW: f64 = 20.0;
/// Scales of ISO 5455 that are tried, largest first.
const SCALES: [f64; 7] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0];
/// Radius of the dot at a numbered place, mm.
const DOT: f64 = 0.6;
/// From the name of a view to the middle of what lies left and right in it, mm.
const ASIDE: f64 = 8.0;
/// From the caption to what follows, mm.
const CLEAR: f64 = 2.0;
/// Least length of the dimension between the feet, mm on paper: where its figure still stands clear.
const LEAST_SPREAD: f64 = 14.0;

/// Both views and the height they take.
pub(super) struct Drawn {
    pub(super) drawing: Drawing,
    pub(super) height: f64,
}

/// What a view measures besides the spread.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Measure {
    Height,
    ForeAndAft,
}

/// One view: what it is called, what lies left and right in it, and how it looks at the frame.
struct View {
    name: fn(&Views) -> &'static str,
    sides: [fn(&Views) -> &'static str; 2],
    look: fn([f64; 3]) -> Point,
    measure: Measure,
}

const FRONT: View = View {
    name: Views::from_front,
    sides: [Views::right, Views::left],
    look: |[_, y, z]| [y, z],
    measure: Measure::Height,
};

const LEFT: View = View {
    name: Views::from_left,
    sides: [Views::front, Views::rear],
    look: |[x, _, z]| [-x, z],
    measure: Measure::ForeAndAft,
};

impl View {
    /// Width of the words under the view, mm.
    fn caption(&self, furniture: Furniture) -> f64 {
        let (letters, say) = (furniture.letters, &furniture.words.views);
        let side = |name: &fn(&Views) -> &'static str| letters.width(name(say), Lettering::Small, Weight::Regular);
        let sides = self.sides.iter().map(side).fold(0.0, f64::max);
        letters.width((self.name)(say), Lettering::Body, Weight::Bold) + 2.0 * ASIDE + sides
    }
}

/// Draws both views side by side at the largest scale at which they fit.
pub(super) fn draw(sheet: &JigSheet, places: &[NumberedPlace], area: Area, furniture: Furniture) -> Drawn {
    let ground = sheet.feet[0][2] - sheet.feet_height[0];
    let spans = [FRONT, LEFT].map(|view| span(sheet, view.look));
    let low = spans.iter().fold(ground, |low, (_, up)| low.min(up[0]));
    let high = spans.iter().fold(ground + sheet.height, |high, (_, up)| high.max(up[1]));
    let wide: f64 = spans.iter().map(|(across, _)| across[1] - across[0]).sum();
    let room = [area.width - 4.0 * SIDE, area.height - ABOVE - BELOW - CLEAR];
    let captions = [FRONT, LEFT].map(|view| view.caption(furniture) - 2.0 * SIDE);
    // A view takes its own width, or that of the words under it.
    let widths = |scale: f64| {
        let [front, left] = [0, 1].map(|view: usize| {
            let (across, _) = spans[view];
            captions[view].max((across[1] - across[0]) / scale)
        });
        [front, left]
    };
    let scale = SCALES
        .into_iter()
        .find(|&scale| widths(scale).iter().sum::<f64>() <= room[0] && (high - low) / scale <= room[1])
        .unwrap_or_else(|| (wide / room[0]).max((high - low) / room[1]));
    let widths = widths(scale);
    let height = (high - low) / scale + ABOVE + BELOW;
    // What is left over of the width goes round both views alike.
    let gap = (area.width - widths.iter().sum::<f64>() - 4.0 * SIDE) / 3.0;
    let mut drawing = Drawing::default();
    let mut left = area.x + SIDE + gap;
    for ((view, (across, _)), taken) in [FRONT, LEFT].into_iter().zip(spans).zip(widths) {
        let width = (across[1] - across[0]) / scale;
        let frame = Area {
            x: left + (taken - width) / 2.0,
            y: area.top() - height + BELOW,
            width,
            height: height - ABOVE - BELOW,
        };
        JigView { sheet, view, frame, corner: [across[0], low], scale, ground }.draw(places, &mut drawing, furniture);
        left += taken + 2.0 * SIDE + gap;
    }
    let caption = furniture.words.jig_sheets.view_scale(furniture.figures().short_tenths(scale));
    let at = [area.x + area.width / 2.0, area.top() - height + 1.0];
    drawing.text(Text::new(caption, at).lettered(Lettering::Small).anchored(Anchor::Middle));
    Drawn { drawing, height: height + CLEAR }
}

/// Least and largest figure of the centreline across and up a view.
fn span(sheet: &JigSheet, look: fn([f64; 3]) -> Point) -> ([f64; 2], [f64; 2]) {
    let seen = sheet.centreline.iter().chain(&sheet.feet).map(|at| look(*at));
    seen.fold(([f64::MAX, f64::MIN], [f64::MAX, f64::MIN]), |(across, up), [u, v]| {
        ([across[0].min(u), across[1].max(u)], [up[0].min(v), up[1].max(v)])
    })
}

/// A member as seen in one view.
struct JigView<'a> {
    sheet: &'a JigSheet,
    view: View,
    /// Where the centreline is drawn.
    frame: Area,
    /// What lies at the frame's lower left corner, mm in the view.
    corner: Point,
    scale: f64,
    /// Height of the base plane in the frame of reference, mm.
    ground: f64,
}

impl JigView<'_> {
    fn place(&self, at: [f64; 3]) -> Point {
        let [u, v] = (self.view.look)(at);
        [self.frame.x + (u - self.corner[0]) / self.scale, self.up(v)]
    }

    fn up(&self, z: f64) -> f64 {
        self.frame.y + (z - self.corner[1]) / self.scale
    }

    fn draw(&self, places: &[NumberedPlace], drawing: &mut Drawing, furniture: Furniture) {
        let (sheet, frame) = (self.sheet, self.frame);
        let base = self.up(self.ground);
        let ends = [frame.x - 8.0, frame.right() + 8.0];
        drawing.line([ends[0], base], [ends[1], base], Pen::Cut);
        let points: Vec<Point> = sheet.centreline.iter().map(|at| self.place(*at)).collect();
        drawing.path(Path::polyline(&points, Pen::Edge));
        for known in places {
            drawing.path(Path::circle(self.place(known.at), DOT, Pen::Edge));
        }
        let figures = furniture.figures();
        self.spread(base, drawing, figures);
        match self.view.measure {
            Measure::Height => self.height(base, drawing, figures),
            Measure::ForeAndAft => self.fore_and_aft(drawing, figures),
        }
        let middle = frame.x + frame.width / 2.0;
        let foot = frame.y - 13.5;
        let say = &furniture.words.views;
        let name = (self.view.name)(say);
        drawing.text(Text::new(name, [middle, foot]).anchored(Anchor::Middle).bold());
        for (side, aside) in self.view.sides.into_iter().zip([-1.0, 1.0]) {
            let half = furniture.letters.width(name, Lettering::Body, Weight::Bold) / 2.0;
            let at = [middle + aside * (half + ASIDE).max(frame.width / 2.0 + 4.0), foot];
            drawing.text(Text::new(side(say), at).lettered(Lettering::Small).anchored(Anchor::Middle));
        }

        let bounds =
            Area { x: frame.x - SIDE, y: frame.y - 4.0, width: frame.width + 2.0 * SIDE, height: frame.height + ABOVE };
        let mut occupied = Occupied::new(furniture.letters, bounds, drawing);
        let mut placed = Drawing::default();
        let name = |x: f64, y: f64, anchor: Anchor| {
            Text::new(say.base_plane(), [x, y]).lettered(Lettering::Small).anchored(anchor)
        };
        let names = [
            name(ends[1], base - 3.0, Anchor::End),
            name(middle, base - 3.0, Anchor::Middle),
            name(ends[1], base + 1.2, Anchor::End),
            name(middle, base + 1.2, Anchor::Middle),
        ];
        if let Some(text) = names.into_iter().find(|text| occupied.is_free(text)) {
            occupied.take(&text);
            placed.text(text);
        }
        let mut taken: Vec<Point> = Vec::new();
        for (index, known) in places.iter().enumerate() {
            let at = self.place(known.at);
            // Of places that fall on one another in a view the first is numbered.
            if taken.iter().any(|other| libm::hypot(at[0] - other[0], at[1] - other[1]) < DOT) {
                continue;
            }
            taken.push(at);
            number(&(index + 1).to_string(), at, &mut occupied, &mut placed);
        }
        drawing.append(placed);
    }

    /// The distance between the feet, in the view that shows more of it.
    fn spread(&self, base: f64, drawing: &mut Drawing, figures: Figures) {
        let apart = |look: fn([f64; 3]) -> Point| {
            let [a, b] = self.sheet.feet.map(look);
            (a[0] - b[0]).abs()
        };
        let other = if self.view.measure == Measure::Height { LEFT } else { FRONT };
        let feet = self.sheet.feet.map(|foot| self.place(foot));
        let (from, to) = (feet[0][0].min(feet[1][0]), feet[0][0].max(feet[1][0]));
        if apart(self.view.look) <= apart(other.look) || to - from < LEAST_SPREAD {
            return;
        }
        let y = base.min(feet[0][1]).min(feet[1][1]) - 5.0;
        for foot in feet {
            drawing.line([foot[0], foot[1] - 1.2], [foot[0], y - 0.8], Pen::Thin);
        }
        level(drawing, [from, y], to, &figures.bare(self.sheet.spread), Side::Below);
    }

    /// The height of the tube's top over the base plane.
    fn height(&self, base: f64, drawing: &mut Drawing, figures: Figures) {
        let (x, top) = (self.frame.x - 9.0, self.up(self.ground + self.sheet.height));
        let crown = self.place(self.sheet.crown);
        drawing.line([x - 0.8, top], [crown[0], top], Pen::Thin);
        upright(drawing, [x, base], top, &figures.bare(self.sheet.height));
    }

    /// How far the crown stands in front of the middle between the feet.
    fn fore_and_aft(&self, drawing: &mut Drawing, figures: Figures) {
        let sheet = self.sheet;
        if sheet.fore_and_aft.abs() < 0.05 {
            return;
        }
        let middle = self.place([0, 1, 2].map(|axis| f64::midpoint(sheet.feet[0][axis], sheet.feet[1][axis])));
        let crown = self.place(sheet.crown);
        let y = self.frame.top() + 3.0;
        drawing.line(middle, [middle[0], y + 0.8], Pen::Axis);
        drawing.line([crown[0], crown[1] + 1.2], [crown[0], y + 0.8], Pen::Thin);
        let (from, to) = (middle[0].min(crown[0]), middle[0].max(crown[0]));
        let words = figures.bare(sheet.fore_and_aft.abs());
        if to - from >= 6.0 {
            level(drawing, [from, y], to, "", Side::Above);
        } else {
            drawing.line([from, y], [to, y], Pen::Thin);
        }
        let at = [f64::midpoint(from, to), y + 2.0];
        drawing.text(Text::new(words, at).anchored(Anchor::Middle));
    }
}

/// A number beside its dot, wherever it stands free.
fn number(words: &str, at: Point, occupied: &mut Occupied, placed: &mut Drawing) {
    let height = Lettering::Small.height();
    for off in [1.4, 2.4, 3.6, 5.0] {
        let tries = [
            ([off, off], Anchor::Start),
            ([-off, off], Anchor::End),
            ([off, -off - height], Anchor::Start),
            ([-off, -off - height], Anchor::End),
            ([off, -height / 2.0], Anchor::Start),
            ([-off, -height / 2.0], Anchor::End),
            ([0.0, off], Anchor::Middle),
            ([0.0, -off - height], Anchor::Middle),
        ];
        for ([right, up], anchor) in tries {
            let text = Text::new(words, [at[0] + right, at[1] + up]).lettered(Lettering::Small).anchored(anchor);
            if occupied.is_free(&text) {
                occupied.take(&text);
                placed.text(text.bold());
                return;
            }
        }
    }
}
