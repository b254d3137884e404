//! A plate drawn with its sizes, and its mark and the names of its holes where they stand free.

use super::hole_words;
use crate::drawing::{Anchor, Area, Drawing, Lettering, Path, Pen, Point, Text};
use crate::pack::layout::dimension::{Side, level, upright};
use crate::pack::layout::free_place::Occupied;
use crate::pack::layout::furniture::{CutOut, Furniture};
use crate::pack::layout::hole_marks;
use crate::sheets::{PlateHoleRow, PlateSheet};

/// Space left of and below the outline for the sizes, mm.
const SIZES: f64 = 9.0;
/// From the outline to a dimension line, mm.
const OFF: f64 = 4.5;
/// Space above and to the right of the outline, for names of holes that do not fit inside, mm.
const BESIDE: f64 = 4.0;
/// Clearance kept left and right of the mark, mm.
const CLEAR: f64 = 2.0;

/// A drawn plate and the room it takes, mm.
pub(super) struct View {
    pub(super) drawing: Drawing,
    pub(super) width: f64,
    pub(super) height: f64,
    /// The room of its holes.
    pub(super) holes: Vec<Area>,
}

/// Lower left corner of the box round a plate's outline.
pub(super) fn corner(plate: &PlateSheet) -> Point {
    [0, 1].map(|axis| plate.outline.iter().map(|point| point[axis]).fold(f64::INFINITY, f64::min))
}

/// Draws a plate, marked with its name and whose it is, smaller by `scale`, its lower left corner `SIZES` from the origin both ways.
pub(super) fn draw(plate: &PlateSheet, name: &str, piece: &CutOut, scale: f64, furniture: Furniture) -> View {
    let low = corner(plate);
    let place = |[x, y]: Point| [SIZES + (x - low[0]) / scale, SIZES + (y - low[1]) / scale];
    let outline: Vec<Point> = plate.outline.iter().map(|point| place(*point)).collect();
    let [wide, tall] = plate.size.map(|side| side / scale);
    let mut drawing = Drawing::default();
    drawing.path(Path::polyline(&outline, Pen::Cut));
    for hole in &plate.holes {
        let countersink = hole.countersink.map(|wide| wide / scale);
        hole_marks::round_hole(place(hole.at), hole.diameter / scale, countersink, &mut drawing);
    }
    sizes(plate, [wide, tall], &mut drawing, furniture);
    let bounds = Area { x: SIZES, y: SIZES, width: wide + BESIDE, height: tall + BESIDE };
    let mut placed = Drawing::default();
    let origin = place([0.0, 0.0]);
    if contains(&outline, origin) {
        drawing.line([origin[0] - 2.0, origin[1]], [origin[0] + 2.0, origin[1]], Pen::Thin);
        drawing.line([origin[0], origin[1] - 2.0], [origin[0], origin[1] + 2.0], Pen::Thin);
    }
    let mut occupied = Occupied::new(furniture.letters, bounds, &drawing);
    if contains(&outline, origin) {
        hole_marks::name("0", origin, 0.0, &mut occupied, &mut placed);
    }
    let inside = Inside { outline: &outline, bounds, furniture };
    inside.mark(name, &mut occupied, &mut placed);
    for hole in &plate.holes {
        let reach = hole.countersink.unwrap_or(hole.diameter).max(hole.diameter) / scale;
        hole_marks::name(
            &hole_words(hole.diameter, hole.countersink, furniture.figures()),
            place(hole.at),
            reach,
            &mut occupied,
            &mut placed,
        );
    }
    inside.whose(piece, origin, &mut occupied, &mut placed);
    drawing.append(placed);
    let room = |hole: &PlateHoleRow| {
        hole_marks::room(place(hole.at), hole.countersink.unwrap_or(hole.diameter).max(hole.diameter) / scale)
    };
    let holes = plate.holes.iter().map(room).collect();
    View { drawing, width: SIZES + wide + BESIDE, height: SIZES + tall + BESIDE, holes }
}

/// Width below and height to the left.
fn sizes(plate: &PlateSheet, [wide, tall]: [f64; 2], drawing: &mut Drawing, furniture: Furniture) {
    let at = SIZES - OFF;
    for x in [SIZES, SIZES + wide] {
        drawing.line([x, SIZES - 0.8], [x, at - 0.8], Pen::Thin);
    }
    for y in [SIZES, SIZES + tall] {
        drawing.line([SIZES - 0.8, y], [at - 0.8, y], Pen::Thin);
    }
    level(drawing, [SIZES, at], SIZES + wide, &furniture.figures().bare(plate.size[0]), Side::Below);
    upright(drawing, [at, SIZES], SIZES + tall, &furniture.figures().bare(plate.size[1]));
}

/// What is lettered inside the outline, which is what is left when the paper is cut along it.
struct Inside<'a> {
    outline: &'a [Point],
    bounds: Area,
    furniture: Furniture<'a>,
}

impl Inside<'_> {
    /// Places for a middle, nearest to the plate's own first.
    fn places(&self) -> Vec<Point> {
        let bounds = self.bounds;
        let middle = [bounds.x + (bounds.width - BESIDE) / 2.0, bounds.y + (bounds.height - BESIDE) / 2.0];
        let mut places: Vec<Point> = (1..20_u8)
            .flat_map(|row| (1..20_u8).map(move |column| [f64::from(column) / 20.0, f64::from(row) / 20.0]))
            .map(|[x, y]| [bounds.x + x * bounds.width, bounds.y + y * bounds.height])
            .collect();
        let far = |at: &Point| libm::hypot(at[0] - middle[0], at[1] - middle[1]);
        places.sort_by(|a, b| far(a).total_cmp(&far(b)));
        places
    }

    /// Whether a text stands free, with so much to its left and right, and with all its corners inside.
    fn is_free(&self, text: &Text, aside: f64, occupied: &Occupied) -> bool {
        let area = self.furniture.letters.area(text).inset(-0.6);
        let corners = [[area.x, area.y], [area.right(), area.y], [area.right(), area.top()], [area.x, area.top()]];
        occupied.is_free_by(text, aside) && corners.iter().all(|corner| contains(self.outline, *corner))
    }

    /// The plate's mark, as near to its middle as it stands free.
    fn mark(&self, name: &str, occupied: &mut Occupied, placed: &mut Drawing) {
        let places = self.places();
        for lettering in [Lettering::Heading, Lettering::Body, Lettering::Small] {
            for at in &places {
                let foot = [at[0], at[1] - lettering.height() / 2.0];
                let text = Text::new(name, foot).lettered(lettering).anchored(Anchor::Middle).bold();
                if self.is_free(&text, CLEAR, occupied) {
                    occupied.take(&text);
                    placed.text(text);
                    return;
                }
            }
        }
    }

    /// Pack, kit, part number and size: in one line, in two, in short ones; where no block of lines stands free, one after the other as
    /// they are read, all on one side of point 0.
    fn whose(&self, piece: &CutOut, zero: Point, occupied: &mut Occupied, placed: &mut Drawing) {
        let [full, short] = self.furniture.facts_of_piece(piece);
        let halves = |facts: &[String], between: &str| {
            let half = facts.len().div_ceil(2);
            vec![facts[..half].join(between), facts[half..].join(between)]
        };
        let blocks =
            [vec![full.join(", ")], halves(&full, ", "), vec![short.join(" ")], halves(&short, " "), short.clone()];
        let places = self.places();
        let free = blocks.iter().flat_map(|block| places.iter().map(|at| lines(block, *at))).find(|texts| {
            let is_free = |text: &Text| self.is_free(text, 0.5, occupied);
            texts.iter().all(is_free)
        });
        let sides: [fn(Point, Point) -> bool; 5] = [
            |at, zero| at[1] > zero[1],
            |at, zero| at[1] < zero[1],
            |at, zero| at[0] < zero[0],
            |at, zero| at[0] > zero[0],
            |_, _| true,
        ];
        let texts = free.unwrap_or_else(|| {
            let mut best = Vec::new();
            for is_on_side in sides {
                let places = places.iter().copied().filter(|at| is_on_side(*at, zero)).collect();
                let texts = self.one_by_one(&short, places, occupied);
                if texts.len() > best.len() {
                    best = texts;
                }
            }
            best
        });
        for text in texts {
            occupied.take(&text);
            placed.text(text);
        }
    }

    /// Texts that stand free one after the other as they are read, line by line, as many as do.
    fn one_by_one(&self, facts: &[String], mut places: Vec<Point>, occupied: &Occupied) -> Vec<Text> {
        places.sort_by(|a, b| b[1].total_cmp(&a[1]).then(a[0].total_cmp(&b[0])));
        let mut found: Vec<Text> = Vec::new();
        let mut from = 0;
        for fact in facts {
            let is_clear = |text: &Text| {
                let area = self.furniture.letters.area(text).inset(-0.5);
                found.iter().all(|other| !area.overlaps(&self.furniture.letters.area(other)))
            };
            let texts = places.iter().enumerate().skip(from);
            let mut texts =
                texts.filter_map(|(index, at)| Some((index, lines(std::slice::from_ref(fact), *at).pop()?)));
            let free = texts.find(|(_, text)| self.is_free(text, 0.0, occupied) && is_clear(text));
            if let Some((index, text)) = free {
                from = index + 1;
                found.push(text);
            }
        }
        found
    }
}

/// Small lines, one below the other about a middle.
fn lines(block: &[String], at: Point) -> Vec<Text> {
    let small = Lettering::Small;
    #[allow(clippy::cast_precision_loss)]
    let top = at[1] + (block.len() as f64 / 2.0 - 1.0) * small.leading();
    let heights = std::iter::successors(Some(top), |y| Some(y - small.leading()));
    let line = |(words, y): (&String, f64)| Text::new(words.as_str(), [at[0], y]).lettered(small).bold();
    block.iter().zip(heights).map(line).map(|text| text.anchored(Anchor::Middle)).collect()
}

/// Whether a point lies within a closed polyline, by the crossings of a level ray.
fn contains(outline: &[Point], [x, y]: Point) -> bool {
    let crossings = outline.windows(2).filter(|pair| {
        let (a, b) = (pair[0], pair[1]);
        (a[1] > y) != (b[1] > y) && x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1])
    });
    crossings.count() % 2 == 1
}
