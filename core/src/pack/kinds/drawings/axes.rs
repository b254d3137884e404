//! The axes of the frame as a view shows them.

use crate::drawing::{Anchor, Drawing, Lettering, Path, Pen, Point, Text};
use crate::geometry::DVec3;
use crate::view::Look;

/// Length of an axis that is seen at full length, and from its tip to its letter, mm.
const LENGTH: f64 = 6.5;
const OFF: f64 = 2.0;

/// Side of the square that the axes take, mm.
pub(in crate::pack) const SIZE: f64 = 2.0 * (LENGTH + OFF + 1.2);

/// Draws the axes about a place. Those that point at the viewer or away are left out.
pub(in crate::pack) fn draw(look: &Look, at: Point, drawing: &mut Drawing) {
    for (axis, letter) in [(DVec3::X, "x"), (DVec3::Y, "y"), (DVec3::Z, "z")] {
        let [x, y] = look.flat(axis);
        let length = libm::hypot(x, y);
        if length < 0.2 {
            continue;
        }
        let tip = [at[0] + LENGTH * x, at[1] + LENGTH * y];
        let [x, y] = [x / length, y / length];
        drawing.line(at, tip, Pen::Thin);
        let back = [tip[0] - 1.6 * x, tip[1] - 1.6 * y];
        let side = |hand: f64| [back[0] - hand * 0.45 * y, back[1] + hand * 0.45 * x];
        drawing.path(Path::triangle([tip, side(1.0), side(-1.0)]));
        let letter_at = [tip[0] + OFF * x, tip[1] + OFF * y - Lettering::Small.height() / 2.0];
        drawing.text(Text::new(letter, letter_at).lettered(Lettering::Small).anchored(Anchor::Middle));
    }
}
