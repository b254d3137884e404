//! Names and figures along the lines of a strip, each put where it stands free.

use crate::drawing::{Anchor, Drawing, Lettering, Pen, Point, Text};
use crate::pack::layout::free_place::Occupied;

/// Height of a line of points, which runs to the right, at a place, on the straight between its neighbours.
pub(super) fn height_at(points: &[Point], x: f64) -> Option<f64> {
    let after = points.partition_point(|point| point[0] < x);
    let [xb, yb] = *points.get(after)?;
    let Some([xa, ya]) = after.checked_sub(1).and_then(|before| points.get(before)) else {
        return (xb == x).then_some(yb);
    };
    Some(ya + (yb - ya) * (x - xa) / (xb - xa))
}

/// Puts a name beside a line, above it (`side` 1) or below it (-1), with a leader when it stands off.
pub(super) fn name_line(name: &str, places: &[Point], side: f64, occupied: &mut Occupied, placed: &mut Drawing) {
    let letter = Lettering::Small.height();
    for off in [1.2, 3.0, 5.5, 8.5, 12.0] {
        for &[x, y] in places {
            let foot = if side > 0.0 { y + off } else { y - off - letter };
            let text = Text::new(name, [x, foot]).lettered(Lettering::Small).anchored(Anchor::Middle);
            let edge = if side > 0.0 { foot - 0.7 } else { foot + letter + 0.6 };
            if !occupied.is_free(&text) || !occupied.is_clear([x, y], [x, edge]) {
                continue;
            }
            occupied.take(&text);
            if off > 2.0 {
                placed.line([x, y], [x, edge], Pen::Thin);
                occupied.take_line([x, y], [x, edge]);
            }
            placed.text(text);
            return;
        }
    }
}

/// At most about forty of the points of a line, evenly taken: places enough to try.
pub(super) fn some_of(points: &[Point]) -> impl Iterator<Item = Point> + '_ {
    points.iter().copied().step_by(points.len() / 40 + 1)
}

/// Slope of a line of points at a place; level where there is no line.
pub(super) fn slope_at(points: &[Point], x: f64) -> f64 {
    const REACH: f64 = 0.5;
    match (height_at(points, x - REACH), height_at(points, x + REACH)) {
        (Some(before), Some(after)) => (after - before) / (2.0 * REACH),
        _ => 0.0,
    }
}

/// Puts a bevel figure beside its place on the outer line, square to the line, or leaves it out where nothing is free.
pub(super) fn bevel_figure(degrees: f64, at: Point, slope: f64, occupied: &mut Occupied, placed: &mut Drawing) {
    let lettering = Lettering::Small;
    let words = format!("{degrees:.0}°");
    let steep = libm::hypot(1.0, slope);
    let (along, normal) = ([1.0 / steep, slope / steep], [-slope / steep, 1.0 / steep]);
    // How far the middle of the figure must stand off for its corners to clear the line.
    let half = [occupied.width(&words, lettering) / 2.0, lettering.height() / 2.0 + 0.5];
    let reach = half[0] * normal[0].abs() + half[1] * normal[1].abs() + 0.5;
    for aside in [0.0, 3.2, -3.2] {
        for off in [reach, reach + 0.8, -reach, -reach - 0.8] {
            let middle = [0, 1].map(|axis| at[axis] + along[axis] * aside + normal[axis] * off);
            let foot = [middle[0], middle[1] - lettering.height() / 2.0];
            let text = Text::new(words.as_str(), foot).lettered(lettering).anchored(Anchor::Middle);
            if occupied.is_free(&text) {
                occupied.take(&text);
                placed.text(text);
                return;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_height_lies_on_the_straight_between_points() {
        let line = [[0.0, 1.0], [2.0, 3.0], [2.0, 5.0], [6.0, 7.0]];
        let heights = [
            (-0.1, None),
            (0.0, Some(1.0)),
            (1.0, Some(2.0)),
            (2.0, Some(3.0)),
            (4.0, Some(6.0)),
            (6.0, Some(7.0)),
            (6.1, None),
        ];
        for (x, height) in heights {
            assert_eq!(height_at(&line, x), height, "{x}");
        }
    }
}
