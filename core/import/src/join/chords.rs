//! Bends drawn as chords, found again as arcs.
//!
//! The corners of the chords lie on the arc. With a step of p, the turn at its first and last corner is half of p, and p at the others.

use crate::curve::{Arc, Piece};
use glam::DVec3;

/// Fewest chords that say an arc.
const FEWEST: usize = 3;
/// Greatest turn between chords, radians.
const GREATEST_TURN: f64 = 0.35;
/// How far corners may lie from the arc, mm.
const CLOSE: f64 = 0.01;
/// How well turns must agree, radians.
const SAME_TURN: f64 = 0.009;

/// The pieces with chords replaced by arcs, and the radii of these.
pub fn arcs(pieces: &[Piece]) -> (Vec<Piece>, Vec<f64>) {
    let mut out = Vec::with_capacity(pieces.len());
    let mut radii = Vec::new();
    let mut at = 0;
    while at < pieces.len() {
        match arc_from(pieces, at) {
            Some((arc, count)) => {
                radii.push(arc.radius);
                out.push(Piece::Arc(arc));
                at += count;
            }
            None => {
                out.push(pieces[at]);
                at += 1;
            }
        }
    }
    (out, radii)
}

/// The arc that begins with a piece, and how many chords it is drawn with.
fn arc_from(pieces: &[Piece], first: usize) -> Option<(Arc, usize)> {
    let corners: Vec<DVec3> = core::iter::once(pieces[first].first())
        .chain(pieces[first..].iter().map_while(|piece| match piece {
            Piece::Line(_, to) => Some(*to),
            Piece::Arc(_) => None,
        }))
        .take(512)
        .collect();
    let mut count = FEWEST;
    let mut found = None;
    while let Some(arc) = corners.get(..=count).and_then(round) {
        found = Some((arc, count));
        count += 1;
    }
    let (arc, count) = found?;
    // A straight before or after meets the first chord at half the step; a corner of the same turn would be a sharp one.
    let step = arc.sweep / f64::from(u32::try_from(count).ok()?);
    let is_tangent = |piece: Option<&Piece>, arrives: bool| {
        let piece = piece?;
        let (direction, tangent) =
            if arrives { (piece.arrives(), arc.tangent(0.0)) } else { (piece.sets_out(), arc.tangent(arc.sweep)) };
        Some(direction.angle_between(tangent) < SAME_TURN)
    };
    let before = is_tangent(first.checked_sub(1).and_then(|before| pieces.get(before)), true);
    let after = is_tangent(pieces.get(first + count), false);
    let agrees = before.unwrap_or(true) && after.unwrap_or(true) && (before.is_some() || after.is_some() || count > 5);
    (agrees && step < GREATEST_TURN).then_some((arc, count))
}

/// The circle through all of some corners, where these turn alike.
fn round(corners: &[DVec3]) -> Option<Arc> {
    let arc = Arc::through(corners[0], corners[corners.len() / 2], corners[corners.len() - 1])?;
    let turn = |three: &[DVec3]| (three[1] - three[0]).angle_between(three[2] - three[1]);
    let first = turn(&corners[..3]);
    let is_alike = corners.windows(3).all(|three| (turn(three) - first).abs() < SAME_TURN.max(0.05 * first));
    let lies_on = corners.iter().all(|corner| {
        let out = *corner - arc.centre;
        (out.length() - arc.radius).abs() < CLOSE && out.dot(arc.normal).abs() < CLOSE
    });
    (first > 1e-4 && first < GREATEST_TURN && is_alike && lies_on).then_some(arc)
}

#[cfg(test)]
mod tests {
    use super::arcs;
    use crate::curve::Piece;
    use glam::{DVec3, dvec3};

    fn bend(steps: u32) -> Vec<Piece> {
        // A quarter circle of radius 100 about (0, 100) from (0, 0), with straights of 300 before and after.
        let corner = |step: u32| {
            let angle = std::f64::consts::FRAC_PI_2 * f64::from(step) / f64::from(steps);
            dvec3(100.0 * angle.sin(), 100.0 - 100.0 * angle.cos(), 0.0)
        };
        let mut corners = vec![dvec3(-300.0, 0.0, 0.0)];
        corners.extend((0..=steps).map(corner));
        corners.push(dvec3(100.0, 400.0, 0.0));
        corners.windows(2).map(|ends| Piece::Line(ends[0], ends[1])).collect()
    }

    #[test]
    fn chords_of_a_bend_are_its_arc() {
        for steps in [9, 18, 37] {
            let (pieces, radii) = arcs(&bend(steps));
            let [Piece::Line(..), Piece::Arc(arc), Piece::Line(..)] = pieces[..] else { panic!("{steps}: {pieces:?}") };
            assert!((arc.radius - 100.0).abs() < 1e-9 && radii.len() == 1);
            assert!(arc.centre.distance(dvec3(0.0, 100.0, 0.0)) < 1e-9);
        }
    }

    #[test]
    fn sharp_corners_stay_sharp() {
        let corners = [DVec3::ZERO, dvec3(100.0, 0.0, 0.0), dvec3(190.0, 50.0, 0.0), dvec3(240.0, 140.0, 0.0)];
        let pieces: Vec<Piece> = corners.windows(2).map(|ends| Piece::Line(ends[0], ends[1])).collect();
        assert_eq!(arcs(&pieces).0, pieces);
    }
}
