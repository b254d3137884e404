//! From pieces in order to the corners of a centreline.

use super::chain::Joint;
use crate::curve::Piece;
use glam::DVec3;

/// Pieces as first end, corners and last end, with the radius of each corner; `None` at sharp ones.
pub fn centreline(pieces: &[(Piece, Joint)], from: DVec3, to: DVec3) -> (Vec<DVec3>, Vec<Option<f64>>) {
    let pieces = merged(pieces);
    let (mut points, mut radii) = (vec![from], Vec::new());
    for (index, (piece, joint)) in pieces.iter().enumerate() {
        if *joint == Joint::Sharp {
            points.push(piece.first());
            radii.push(None);
        }
        let Piece::Arc(arc) = piece else { continue };
        let corners = arc.corners();
        let between = |index: Option<usize>| index.and_then(|index| pieces.get(index)).map(|(piece, _)| piece);
        let corners = match (&corners[..], between(index.checked_sub(1)), between(Some(index + 1))) {
            ([_], Some(Piece::Line(a, b)), Some(Piece::Line(c, d))) => {
                let long = |p: DVec3, q: DVec3| p.distance(q) > arc.radius / 4.0;
                let meet = (long(*a, *b) && long(*c, *d)).then(|| meeting([*a, *b], [*c, *d])).flatten();
                vec![meet.filter(|corner| corner.distance(corners[0]) < 0.2).unwrap_or(corners[0])]
            }
            _ => corners,
        };
        radii.extend(core::iter::repeat_n(Some(arc.radius), corners.len()));
        points.extend(corners);
    }
    points.push(to);
    (points, radii)
}

/// Where two lines come nearest, in the middle between them; `None` when they are nearly parallel.
fn meeting(one: [DVec3; 2], other: [DVec3; 2]) -> Option<DVec3> {
    let (u, v) = ((one[1] - one[0]).normalize_or_zero(), (other[1] - other[0]).normalize_or_zero());
    let normal = u.cross(v);
    let squared = normal.length_squared();
    if squared < 1e-4 {
        return None;
    }
    let between = other[0] - one[0];
    let on_one = one[0] + u * (between.cross(v).dot(normal) / squared);
    let on_other = other[0] + v * (between.cross(u).dot(normal) / squared);
    Some(on_one.midpoint(on_other))
}

/// Lines in one line as one, and arcs about one centre as one.
fn merged(pieces: &[(Piece, Joint)]) -> Vec<(Piece, Joint)> {
    let mut out: Vec<(Piece, Joint)> = Vec::new();
    for (piece, joint) in pieces {
        match (out.last_mut(), piece, joint) {
            (Some((Piece::Line(_, end), _)), Piece::Line(_, to), Joint::InLine) => *end = *to,
            (Some((Piece::Arc(arc), _)), Piece::Arc(next), Joint::Tangent)
                if arc.centre.distance(next.centre) < 0.01
                    && (arc.radius - next.radius).abs() < 0.01
                    && arc.normal.dot(next.normal) > 1.0 - 1e-6 =>
            {
                arc.sweep += next.sweep;
            }
            _ => out.push((*piece, *joint)),
        }
    }
    out
}
