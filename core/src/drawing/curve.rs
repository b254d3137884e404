//! Few cubic Bezier curves in the place of many points.

use super::{Path, Pen, Point, Segment};

/// How many times the tolerance a curve may stray from the straight line between two points: as that may itself from the true one.
const BETWEEN: f64 = 1.5;

/// Fewest points that a curve takes the place of.
const LEAST: usize = 5;

impl Path {
    /// A line that runs steadily right or left, as few cubic Bezier curves: at each of the points it lies within `tolerance` mm
    /// of it, up or down, between them within half as much again of their straight line, and at the first and last of each curve on it. Where points are few or upright over each other, straight.
    #[must_use]
    pub fn graph(points: &[Point], tolerance: f64, pen: Pen) -> Self {
        let mut segments = Vec::new();
        segments.extend(points.first().map(|first| Segment::Move(*first)));
        let mut at = 0;
        while at + 1 < points.len() {
            let (next, curve) = longest(&points[at..], tolerance);
            segments.push(curve.map_or(Segment::Line(points[at + next]), Segment::Curve));
            at += next;
        }
        Self { segments, pen: Some(pen), fill: None }
    }
}

/// How many points on the longest curve reaches from the first one, and the curve; `None` for a straight step to the next point.
fn longest(points: &[Point], tolerance: f64) -> (usize, Option<[Point; 3]>) {
    let last = points.len() - 1;
    let fitting = |to: usize| fitted(&points[..=to], tolerance).map(|curve| (to, curve));
    let Some(mut best) = (LEAST - 1 <= last).then(|| fitting(LEAST - 1)).flatten() else {
        return (1, None);
    };
    // Doubled until it no longer fits, then halved in between.
    let mut too_far = loop {
        let to = (2 * best.0).min(last);
        match fitting(to) {
            Some(better) if to == last => return (better.0, Some(better.1)),
            Some(better) => best = better,
            None => break to,
        }
    };
    while too_far - best.0 > 1 {
        let middle = best.0 + (too_far - best.0) / 2;
        match fitting(middle) {
            Some(better) => best = better,
            None => too_far = middle,
        }
    }
    (best.0, Some(best.1))
}

/// The curve from the first to the last point that strays least from those between (least squares over its slopes at both ends);
/// `None` when it strays too far from one of them.
fn fitted(points: &[Point], tolerance: f64) -> Option<[Point; 3]> {
    let (from, to) = (points.first()?, points.last()?);
    let (width, rise) = (to[0] - from[0], to[1] - from[1]);
    if width.abs() < 1e-6 {
        return None;
    }
    // Hermite's cubic: the straight line, and what the slopes against it at both ends add.
    let shares = |point: &Point| {
        let t = (point[0] - from[0]) / width;
        let off = point[1] - from[1] - t * rise;
        ([t * (1.0 - t) * (1.0 - t), -t * t * (1.0 - t)], off)
    };
    let (mut square, mut mixed, mut right) = ([0.0; 2], 0.0, [0.0; 2]);
    for point in &points[1..points.len() - 1] {
        let ([a, b], off) = shares(point);
        square = [square[0] + a * a, square[1] + b * b];
        mixed += a * b;
        right = [right[0] + a * off, right[1] + b * off];
    }
    let determinant = square[0] * square[1] - mixed * mixed;
    if determinant <= 1e-9 * square[0] * square[1] {
        return None;
    }
    let slopes = [
        (right[0] * square[1] - right[1] * mixed) / determinant,
        (right[1] * square[0] - right[0] * mixed) / determinant,
    ];
    let strays = |point: &Point| {
        let ([a, b], off) = shares(point);
        (off - a * slopes[0] - b * slopes[1]).abs()
    };
    let between = |pair: &[Point], part: f64| [0, 1].map(|axis| pair[0][axis] + part * (pair[1][axis] - pair[0][axis]));
    // The cubic lies off the straight line between two points of it by an eighth of its second change over their distance at most.
    let bend = (4.0 * slopes[0] + 2.0 * slopes[1]).abs().max((2.0 * slopes[0] + 4.0 * slopes[1]).abs()) / 8.0;
    let mut before = 0.0;
    for pair in points.windows(2) {
        let here = strays(&pair[1]);
        let part = (pair[1][0] - pair[0][0]) / width;
        let is_near = f64::max(before, here) + bend * part * part <= BETWEEN * tolerance;
        let is_off = |part: f64| strays(&between(pair, part)) > BETWEEN * tolerance;
        if here > tolerance || !is_near && [0.25, 0.5, 0.75].into_iter().any(is_off) {
            return None;
        }
        before = here;
    }
    let third = width / 3.0;
    Some([
        [from[0] + third, from[1] + (rise + slopes[0]) / 3.0],
        [to[0] - third, to[1] - (rise + slopes[1]) / 3.0],
        *to,
    ])
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A saddle of equal tubes: `r |cos u/r|` has kinks at both flanks.
    fn saddle(count: u32) -> Vec<Point> {
        let radius = 22.5;
        (0..=count)
            .map(|step| {
                let angle = core::f64::consts::TAU * f64::from(step) / f64::from(count);
                [radius * angle, radius * (1.0 - libm::cos(angle).abs())]
            })
            .collect()
    }

    #[test]
    fn few_curves_follow_a_saddle_with_kinks() {
        let points = saddle(288);
        let path = Path::graph(&points, 0.004, Pen::Cut);
        assert!(path.segments.len() < 30, "{} segments", path.segments.len());
        let chords = path.chords(64);
        for [x, y] in saddle(1999) {
            let off = chords
                .iter()
                .filter(|(a, b)| a[0] <= x && x <= b[0])
                .map(|(a, b)| (a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0]).max(1e-12) - y).abs())
                .fold(f64::INFINITY, f64::min);
            assert!(off < 0.008, "{off} at {x}");
        }
    }

    #[test]
    fn what_stands_upright_or_has_few_points_stays_straight() {
        let points = [[0.0, 0.0], [5.0, 0.0], [5.0, 3.0], [9.0, 3.0]];
        let path = Path::graph(&points, 0.004, Pen::Cut);
        let straight: Vec<Segment> = points[1..].iter().map(|point| Segment::Line(*point)).collect();
        assert_eq!(path.segments[1..], straight);
    }
}
