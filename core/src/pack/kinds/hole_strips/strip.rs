//! The strip itself: cut out, laid round the tube between its two marks, and the holes punched through it.
//!
//! Its own coordinates: origin at the left end of the lower edge, x round the tube, y along it towards its `to` end.

use super::edge_words;
use crate::drawing::{Area, Drawing, Lettering, Path, Pen, Text, Turn, Weight};
use crate::pack::Status;
use crate::pack::layout::free_place::Occupied;
use crate::pack::layout::furniture::{CutOut, Furniture};
use crate::pack::layout::hole_marks::{self, Unrolled};
use crate::pack::layout::lines::{baseline, break_lines};
use crate::sheets::HoleStrip;

/// Width of the overlap beyond the closure line, mm.
const TAB: f64 = 8.0;
/// Height of the ticks of the index lines at both edges, mm.
const TICK: f64 = 5.5;
/// Where words begin, right of the arrow, mm.
const LEFT: f64 = 8.0;

/// A strip and the room it takes, mm.
pub(super) struct Strip {
    pub(super) drawing: Drawing,
    pub(super) width: f64,
    pub(super) height: f64,
    /// The room of its holes.
    pub(super) holes: Vec<Area>,
}

/// Draws the strip of a sheet.
pub(super) fn draw(sheet: &HoleStrip, piece: &CutOut, furniture: Furniture) -> Strip {
    let paper = furniture.issue.print.paper_thickness;
    let on_paper = |x: f64| sheet.on_paper(x, paper);
    let closure = on_paper(sheet.circumference);
    let tube = Unrolled { circumference: sheet.circumference, on_paper: &on_paper };
    let mut drawing = Drawing::default();
    outline(&mut drawing, closure, sheet.height, furniture);
    let centres: Vec<_> =
        sheet.holes.iter().map(|hole| tube.hole(hole.at, hole.diameter, &hole.outline, &mut drawing)).collect();

    let edge = |sign: f64| {
        let reach = sheet.holes.iter().map(move |hole| sign * hole.at[1] - hole.diameter / 2.0 - 2.0);
        reach.fold(f64::INFINITY, f64::min)
    };
    let (lowest, highest) = (edge(1.0), -edge(-1.0));
    let foot = words(&mut drawing, &foot_lines(sheet, furniture), TICK, lowest, closure, furniture);
    let head_room = sheet.height - highest - 1.0;
    let [whose, short] = furniture.facts_of_piece(piece);
    let [in_full, in_short] = [whose.join(", "), short.join(" ")].map(|whose| head_lines(sheet, whose, furniture));
    let with_whose = &in_full[..WITH_WHOSE];
    let has_room = height_of(with_whose, closure, furniture) <= head_room;
    let head_lines = if has_room { in_full } else { in_short };
    let height = fitting(&head_lines, head_room, closure, furniture).1;
    let head = words(&mut drawing, &head_lines, sheet.height - 1.0 - height, sheet.height, closure, furniture);
    let head = if height > 0.0 { head - height } else { sheet.height };
    if foot > TICK {
        arrow_up(&mut drawing, 4.0, TICK + 0.5, foot);
    }
    lengthwise_lines(&mut drawing, sheet, &on_paper, [foot, head], furniture);

    let bounds = Area { x: 0.4, y: foot, width: closure - 0.8, height: head - foot };
    let mut occupied = Occupied::new(furniture.letters, bounds, &drawing);
    let mut placed = Drawing::default();
    let holes =
        sheet.holes.iter().zip(&centres).map(|(hole, centre)| hole_marks::room(*centre, hole.diameter)).collect();
    for (hole, centre) in sheet.holes.iter().zip(centres) {
        let words = furniture.words.strips.drill(furniture.figures().fine(hole.diameter), &hole.hole);
        hole_marks::name(&words, centre, hole.diameter, &mut occupied, &mut placed);
    }
    drawing.append(placed);
    Strip { drawing, width: closure + TAB, height: sheet.height, holes }
}

/// Both edges and both sides firm, for all are set to something; the overlap dashed.
fn outline(drawing: &mut Drawing, closure: f64, height: f64, furniture: Furniture) {
    let end = closure + TAB;
    drawing.path(Path::rectangle(Area { x: 0.0, y: 0.0, width: closure, height }, Pen::Edge));
    drawing.path(Path::polyline(&[[closure, 0.0], [end, 0.0], [end, height], [closure, height]], Pen::Hidden));
    let small = Lettering::Small;
    let say = &furniture.words.strips;
    let fits = furniture.letters.width(say.overlap(), small, Weight::Regular) < height - 5.0;
    let text = Text::new(if fits { say.overlap() } else { say.overlap_in_short() }, [end - 2.4, 3.0]).lettered(small);
    drawing.text(text.turned(Turn::Quarter));
}

type LabelLine = (String, Lettering, Weight);

fn foot_lines(sheet: &HoleStrip, furniture: Furniture) -> Vec<LabelLine> {
    let [lower, _] = edge_words(sheet, furniture.figures());
    let mut lines = vec![(sheet.member.clone(), Lettering::Body, Weight::Bold)];
    if furniture.issue.status == Status::Draft {
        lines.push((furniture.words.page.draft_mark().to_owned(), Lettering::Small, Weight::Bold));
    }
    lines.push((lower, Lettering::Small, Weight::Regular));
    lines
}

/// How many of the lines at the head are never left out.
const WITH_WHOSE: usize = 3;

fn head_lines(sheet: &HoleStrip, whose: String, furniture: Furniture) -> Vec<LabelLine> {
    let [_, upper] = edge_words(sheet, furniture.figures());
    vec![
        (upper, Lettering::Small, Weight::Regular),
        (furniture.words.hole_strips.arrow().to_owned(), Lettering::Small, Weight::Bold),
        (whose, Lettering::Small, Weight::Bold),
        (furniture.facts_of_issue(), Lettering::Small, Weight::Regular),
    ]
}

/// What lines take when they are broken to the strip's width, mm.
fn height_of(lines: &[LabelLine], closure: f64, furniture: Furniture) -> f64 {
    fitting(lines, f64::INFINITY, closure, furniture).1
}

/// The lines that fit into a height, broken to the strip's width, and the height they take.
fn fitting(lines: &[LabelLine], room: f64, closure: f64, furniture: Furniture) -> (Vec<LabelLine>, f64) {
    let (mut chosen, mut height) = (Vec::new(), 0.0);
    for (text, lettering, face) in lines {
        let broken = break_lines(furniture.letters, text, *lettering, *face, closure - LEFT - 2.0);
        #[allow(clippy::cast_precision_loss)]
        let more = broken.len() as f64 * lettering.leading();
        if height + more <= room {
            height += more;
            chosen.extend(broken.into_iter().map(|line| (line, *lettering, *face)));
        }
    }
    (chosen, height)
}

/// Writes what fits between two heights, from `low` up; returns the height that the words reach.
fn words(drawing: &mut Drawing, lines: &[LabelLine], low: f64, high: f64, closure: f64, furniture: Furniture) -> f64 {
    let (chosen, height) = fitting(lines, high - low, closure, furniture);
    let mut y = low + height;
    for (line, lettering, face) in chosen {
        let text = Text::new(line, [LEFT, baseline(y, lettering)]).lettered(lettering);
        drawing.text(Text { face, ..text });
        y -= lettering.leading();
    }
    low + height
}

/// Index lines: a numbered tick at the lower edge, then from above the words to below those at the top, and a tick there.
fn lengthwise_lines(
    drawing: &mut Drawing,
    sheet: &HoleStrip,
    on_paper: &dyn Fn(f64) -> f64,
    [foot, head]: [f64; 2],
    furniture: Furniture,
) {
    // A rectangular outline, too, repeats its half after half and has the middle of each side at a quarter of it.
    for (quarter, number) in [(0.0, "0°"), (0.25, "90°"), (0.5, "180°"), (0.75, "270°"), (1.0, "0°")] {
        let x = on_paper(quarter * sheet.circumference);
        let width = furniture.letters.width(number, Lettering::Body, Weight::Regular);
        let start = if quarter == 1.0 { x - 1.2 - width } else { x + 1.2 };
        drawing.text(Text::new(number, [start, 1.6]));
        if quarter > 0.0 && quarter < 1.0 {
            drawing.line([x, 0.0], [x, TICK - 0.5], Pen::Thin);
            drawing.line([x, foot], [x, head], Pen::Thin);
        }
    }
    for side in sheet.flats.iter().flat_map(|side| [side.from, side.to]) {
        let x = on_paper(side);
        if side > 1e-6 && side < sheet.circumference - 1e-6 {
            drawing.line([x, foot], [x, head], Pen::Hidden);
        }
    }
}

fn arrow_up(drawing: &mut Drawing, x: f64, from: f64, to: f64) {
    drawing.line([x, from], [x, to - 3.0], Pen::Cut);
    drawing.path(Path::triangle([[x, to], [x - 1.4, to - 3.0], [x + 1.4, to - 3.0]]));
}
