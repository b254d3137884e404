//! Splines: lines and arcs that are drawn as such, found again.

use crate::curve::{Arc, Piece};
use glam::DVec3;

/// Most control points of a spline.
const MOST_POINTS: usize = 5_000;
const MOST_DEGREE: usize = 9;
/// Places looked at in each span.
const LOOKS: usize = 9;
/// Share of its length by which a curve may leave the line or circle: 0.005 mm on 100 mm.
const CLOSE: f64 = 5e-5;

/// A rational B-spline curve.
#[derive(Debug)]
pub struct Spline {
    degree: usize,
    points: Vec<DVec3>,
    weights: Vec<f64>,
    knots: Vec<f64>,
}

impl Spline {
    /// A spline, where its figures belong together. No weights are all the same.
    pub fn new(degree: usize, points: Vec<DVec3>, weights: Vec<f64>, knots: Vec<f64>) -> Option<Self> {
        let weights = if weights.is_empty() { vec![1.0; points.len()] } else { weights };
        let fits = (1..=MOST_DEGREE).contains(&degree)
            && points.len() > degree
            && points.len() <= MOST_POINTS
            && weights.len() == points.len()
            && knots.len() == points.len() + degree + 1
            && weights.iter().all(|weight| *weight > 0.0)
            && knots.is_sorted()
            && knots[degree] < knots[points.len()];
        fits.then_some(Self { degree, points, weights, knots })
    }

    /// First and last parameter.
    pub fn range(&self) -> (f64, f64) {
        (self.knots[self.degree], self.knots[self.points.len()])
    }

    /// The place at a parameter, by de Boor's algorithm on weighted points.
    pub fn at(&self, parameter: f64) -> DVec3 {
        let (degree, knots) = (self.degree, &self.knots);
        let last = self.points.len() - 1;
        let span = knots[degree..=last].partition_point(|knot| *knot <= parameter) + degree - 1;
        let span = span.clamp(degree, last);
        let mut held: Vec<(DVec3, f64)> = (span - degree..=span)
            .map(|index| (self.points[index] * self.weights[index], self.weights[index]))
            .collect();
        for level in 1..=degree {
            for index in (level..=degree).rev() {
                let knot = span - degree + index;
                let width = knots[knot + degree + 1 - level] - knots[knot];
                let share = if width > 0.0 { (parameter - knots[knot]) / width } else { 0.0 };
                held[index] = (
                    held[index - 1].0 * (1.0 - share) + held[index].0 * share,
                    held[index - 1].1 * (1.0 - share) + held[index].1 * share,
                );
            }
        }
        held[degree].0 / held[degree].1
    }

    /// The curve as lines and arcs, between two parameters; `None` where a part of it is neither.
    pub fn pieces(&self, between: Option<(f64, f64)>) -> Option<Vec<Piece>> {
        let (from, to) = between.unwrap_or(self.range());
        let mut breaks: Vec<f64> = self.knots.iter().copied().filter(|&knot| knot > from && knot < to).collect();
        breaks.dedup();
        breaks.insert(0, from);
        breaks.push(to);
        let spans: Vec<Vec<DVec3>> = breaks.windows(2).map(|ends| self.looks(ends[0], ends[1])).collect();
        if let Some(piece) = piece_through(&spans.concat()) {
            return Some(vec![piece]);
        }
        spans.iter().map(|span| piece_through(span)).collect()
    }

    fn looks(&self, from: f64, to: f64) -> Vec<DVec3> {
        #[expect(clippy::cast_precision_loss, reason = "a handful")]
        let at = |look: usize| self.at(from + (to - from) * look as f64 / (LOOKS - 1) as f64);
        (0..LOOKS).map(at).collect()
    }
}

/// The line or arc on which all of some places lie, in their order.
fn piece_through(places: &[DVec3]) -> Option<Piece> {
    let [first, .., last] = places else { return None };
    let length: f64 = places.windows(2).map(|ends| ends[0].distance(ends[1])).sum();
    let room = CLOSE * length;
    let chord = (*last - *first).normalize_or_zero();
    let is_straight = chord != DVec3::ZERO
        && places.iter().all(|place| (*place - *first).reject_from(chord).length() <= room.min(1e-9 + 1e-7 * length));
    if is_straight {
        return Some(Piece::Line(*first, *last));
    }
    let arc = Arc::through(*first, places[places.len() / 2], *last)?;
    let is_round = places.iter().all(|place| {
        let out = *place - arc.centre;
        (out.length() - arc.radius).abs() <= room && out.dot(arc.normal).abs() <= room
    });
    (is_round && (arc.radius * arc.sweep - length).abs() <= 0.01 * length).then_some(Piece::Arc(arc))
}

#[cfg(test)]
mod tests {
    use super::Spline;
    use crate::curve::Piece;
    use glam::dvec3;

    #[test]
    fn a_rational_spline_of_degree_two_is_an_exact_arc() {
        // Closed form: control points of a quarter circle of radius 10 with weights 1, cos 45 degrees, 1.
        let points = vec![dvec3(10.0, 0.0, 1.0), dvec3(10.0, 10.0, 1.0), dvec3(0.0, 10.0, 1.0)];
        let weights = vec![1.0, core::f64::consts::FRAC_1_SQRT_2, 1.0];
        let spline = Spline::new(2, points, weights, vec![0.0, 0.0, 0.0, 1.0, 1.0, 1.0]).unwrap();
        let Some([Piece::Arc(arc)]) = spline.pieces(None).as_deref().map(|pieces| [pieces[0]]) else {
            panic!("no arc")
        };
        assert!((arc.radius - 10.0).abs() < 1e-9 && (arc.sweep - core::f64::consts::FRAC_PI_2).abs() < 1e-9);
        assert!(arc.centre.distance(dvec3(0.0, 0.0, 1.0)) < 1e-9);
    }

    #[test]
    fn a_free_curve_is_neither() {
        let points = vec![dvec3(0.0, 0.0, 0.0), dvec3(10.0, 30.0, 0.0), dvec3(20.0, -30.0, 5.0), dvec3(30.0, 0.0, 0.0)];
        let spline = Spline::new(3, points, vec![], vec![0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0]).unwrap();
        assert!(spline.pieces(None).is_none());
        assert!(Spline::new(3, vec![], vec![], vec![]).is_none());
        assert!(Spline::new(1, vec![dvec3(0.0, 0.0, 0.0); 2], vec![1.0, f64::NAN], vec![0.0, 0.0, 1.0, 1.0]).is_none());
    }
}
