//! How near a generator comes to what it does not meet.

use super::Cut;
use crate::geometry::{Cylinder, Piece, Ray, TorusSector, least_place};

/// Places tried along a generator where a piece may be nearest twice.
const TRIED: u32 = 64;

/// How exactly the nearest place along a generator is found, mm: the distance is exact to the square of this.
const RESOLVED: f64 = 1e-5;

/// Where a generator comes nearest to a target.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nearest {
    /// How far away, mm; 0 where it touches.
    pub by: f64,
    /// Station there, mm.
    pub s: f64,
    /// Which target, as a position in [`Cut::targets`].
    pub target: usize,
}

impl Cut {
    /// Where the generator at `u` on the outer surface comes nearest to a target, between where it looks for its first hit and
    /// where a hit no longer counts; `None` when there is no target.
    #[must_use]
    pub fn nearest(&self, u: f64) -> Option<Nearest> {
        let ray = self.end.generator(u, 0.0);
        let mut best: Option<Nearest> = None;
        for (target, solid) in self.targets.iter().enumerate() {
            for piece in solid.pieces() {
                let reach = best.map_or(f64::INFINITY, |best| best.by);
                if !piece.may_come_near(&ray, [self.start, self.limit], reach) {
                    continue;
                }
                let Some((s, by)) = nearest_to(piece, &ray, [self.start, self.limit]) else { continue };
                if best.is_none_or(|best| by < best.by) {
                    best = Some(Nearest { by, s, target });
                }
            }
        }
        best
    }
}

/// Where a stretch of a ray comes nearest to a piece, and how near.
pub(in crate::part) fn nearest_to(piece: &Piece, ray: &Ray, [from, to]: [f64; 2]) -> Option<(f64, f64)> {
    if let Piece::Cylinder(bar) = piece
        && let Some(found) = beside(bar, ray, [from, to])
    {
        return Some(found);
    }
    let away = |s: f64| piece.away(ray.at(s));
    if let Piece::Torus(bend) = piece {
        return nearest_to_bend(bend, ray, [from, to]);
    }
    let [left, right] = if piece.is_convex() { [from, to] } else { around_least([from, to], &away) };
    let s = least_place(left, right, RESOLVED, away);
    Some((s, away(s)))
}

/// The nearest place to the side of a bar; `None` where an end is nearer.
fn beside(bar: &Cylinder, ray: &Ray, [from, to]: [f64; 2]) -> Option<(f64, f64)> {
    let start = ray.origin - bar.point;
    let (along, rate) = (start.dot(bar.axis), ray.direction.dot(bar.axis));
    let (w, d) = (start - bar.axis * along, ray.direction - bar.axis * rate);
    let square = d.length_squared();
    if square < 1e-12 {
        return None;
    }
    let s = (-w.dot(d) / square).clamp(from, to);
    let is_beside = bar.length.is_none_or(|length| (0.0..=length).contains(&(along + s * rate)));
    is_beside.then(|| (s, ((w + d * s).length() - bar.radius).max(0.0)))
}

/// A bend is only there between its ends; what lies past them is nearer to the legs.
fn nearest_to_bend(bend: &TorusSector, ray: &Ray, stretch: [f64; 2]) -> Option<(f64, f64)> {
    let away = |s: f64| bend.distance(ray.at(s)).max(0.0);
    let [left, right] = around_least(stretch, &away);
    let s = least_place(left, right, RESOLVED, away);
    bend.in_wedge(ray.at(s)).then(|| (s, away(s)))
}

fn around_least([from, to]: [f64; 2], away: &impl Fn(f64) -> f64) -> [f64; 2] {
    let width = (to - from) / f64::from(TRIED);
    let at = |step: u32| from + width * f64::from(step);
    let nearest = (0..=TRIED).map(at).reduce(|best, s| if away(s) < away(best) { s } else { best }).unwrap_or(from);
    [(nearest - width).max(from), (nearest + width).min(to)]
}
