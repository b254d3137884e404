//! A straight part of a pair as it lies on the bench, its line at 0 degrees up towards the eye.

use crate::drawing::{Anchor, Area, Drawing, Ink, Lettering, Path, Pen, Placement, Text, Turn};
use crate::pack::kinds::wraps::Subject;
use crate::pack::kinds::wraps::side::{self, Tip};
use crate::pack::layout::figures::Figures;
use crate::pack::layout::furniture::Furniture;
use crate::sheets::{End, IndexLine, Sheets};

/// What a part takes across and up, mm.
pub(super) const WIDTH: f64 = side::LONG + 8.0;
pub(super) const HEIGHT: f64 = 25.0;

/// Half the side of the mark on a long point, mm.
const MARK: f64 = 0.7;

/// The part of a member, in a drawing from its lower left corner; `None` for a bent one, and where both ends are square.
pub(super) fn draw(sheets: &Sheets, member: &str, furniture: Furniture) -> Option<Drawing> {
    let row = sheets.cut_sheet.rows.iter().find(|row| row.member == member)?;
    let of = |end: End| sheets.wraps.iter().find(|wrap| wrap.member == member && wrap.end == end);
    let wrap = of(End::To).or_else(|| of(End::From)).filter(|_| row.bends == 0)?;
    // With end 2 on the right the eye stands over 0 degrees when 270 is up; with end 1 there, when 90 is.
    let up = if wrap.end == End::To { [0.0, -1.0] } else { [0.0, 1.0] };
    let seen = side::view(Subject::of(sheets, wrap), up);
    let mut drawing = Drawing::default();
    let axis = HEIGHT - 11.0;
    drawing.place(seen.drawing, Placement { at: [4.0, axis], turn: Turn::None });
    for tip in seen.tips.iter().flatten() {
        mark(&mut drawing, tip, axis);
    }
    let small = |words: String, x: f64, y: f64, anchor: Anchor| {
        Text::new(words, [x, y]).lettered(Lettering::Small).anchored(anchor)
    };
    drawing.text(small(member.to_owned(), WIDTH / 2.0, HEIGHT - 3.0, Anchor::Middle).bold());
    let ends = [
        (wrap.end.other(), wrap.other_long_point, 4.0, Anchor::Start),
        (wrap.end, wrap.long_point, WIDTH - 4.0, Anchor::End),
    ];
    for (end, point, x, anchor) in ends {
        drawing.text(small(furniture.words.page.end(furniture.figures().end(end)), x, 4.4, anchor));
        drawing.text(small(long_point(point, furniture.figures()), x, 1.2, anchor));
    }
    Some(drawing)
}

fn long_point(point: Option<IndexLine>, figures: Figures) -> String {
    let say = &figures.words.pairs;
    point.map_or_else(|| say.square().to_owned(), |point| say.long_point(figures.clock(point.clock_deg)))
}

fn mark(drawing: &mut Drawing, tip: &Tip, axis: f64) {
    let [x, y] = [4.0 + tip.at[0], axis + tip.at[1]];
    if tip.is_near {
        let square = Area { x: x - MARK, y: y - MARK, width: 2.0 * MARK, height: 2.0 * MARK };
        drawing.path(Path::filled(square, Ink::Black));
    } else {
        drawing.path(Path::circle([x, y], MARK, Pen::Edge));
    }
}
