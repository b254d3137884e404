//! Curves with no more points than they need.

use crate::drawing::Point;

/// The points of a polyline without those from which it strays by less than `tolerance` (Douglas and Peucker).
#[must_use]
pub fn simplified(points: &[Point], tolerance: f64) -> Vec<Point> {
    let Some(last) = points.len().checked_sub(1) else { return Vec::new() };
    let mut kept = vec![false; points.len()];
    kept[0] = true;
    kept[last] = true;
    let mut stack = vec![(0, last)];
    while let Some((first, last)) = stack.pop() {
        let chord = Chord::new(points[first], points[last]);
        let furthest = (first + 1..last).map(|at| (at, chord.square(points[at])));
        let Some((at, most)) = furthest.reduce(|best, next| if next.1 > best.1 { next } else { best }) else {
            continue;
        };
        if most > tolerance * tolerance {
            kept[at] = true;
            stack.push((first, at));
            stack.push((at, last));
        }
    }
    points.iter().zip(kept).filter_map(|(point, kept)| kept.then_some(*point)).collect()
}

/// Distance of a point from the straight line between two others.
#[must_use]
pub fn distance(point: Point, a: Point, b: Point) -> f64 {
    Chord::new(a, b).square(point).sqrt()
}

/// The straight line between two points.
struct Chord {
    start: Point,
    along: Point,
    /// One over the square of its length; 0 where it has none.
    inverse: f64,
}

impl Chord {
    fn new(a: Point, b: Point) -> Self {
        let along = [b[0] - a[0], b[1] - a[1]];
        let square = along[0] * along[0] + along[1] * along[1];
        Self { start: a, along, inverse: if square > 0.0 { 1.0 / square } else { 0.0 } }
    }

    /// Square of a point's distance.
    fn square(&self, point: Point) -> f64 {
        let from = [point[0] - self.start[0], point[1] - self.start[1]];
        let part = ((from[0] * self.along[0] + from[1] * self.along[1]) * self.inverse).clamp(0.0, 1.0);
        let off = [from[0] - part * self.along[0], from[1] - part * self.along[1]];
        off[0] * off[0] + off[1] * off[1]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quarter_circle_keeps_few_points_and_strays_little() {
        let points: Vec<Point> =
            (0..=200).map(|k| libm::sincos(f64::from(k) / 200.0 * 1.5)).map(|(s, c)| [c, s]).collect();
        let kept = simplified(&points, 1e-3);
        assert!(kept.len() < 40 && kept[0] == points[0] && kept[kept.len() - 1] == points[200]);
        for point in &points {
            let off = kept.windows(2).map(|pair| distance(*point, pair[0], pair[1])).fold(f64::INFINITY, f64::min);
            assert!(off <= 1e-3);
        }
    }
}
