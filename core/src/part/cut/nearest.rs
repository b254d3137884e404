//! How near a generator comes to what it does not meet.

use super::Cut;
use crate::geometry::{Cylinder, Piece, Ray, TorusSector, crossing, least_place};

/// Places tried along a generator where a piece may be nearest twice.
const TRIED: u32 = 64;

/// How exactly the nearest place along a generator is found, mm: the distance is exact to the square of this.
const RESOLVED: f64 = 1e-5;

/// Distances that differ by less are equal along a ray, mm.
const LEVEL: f64 = 1e-8;

/// How far back from the nearest place a ray is looked at for being as near there, mm.
const TRIED_BACK: f64 = 0.01;

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
        let stretch = [self.start, self.limit];
        let mut best: Option<Nearest> = None;
        let mut left = Vec::new();
        for (target, solid) in self.targets.iter().enumerate() {
            for piece in solid.pieces() {
                if !may_be_nearer(piece, &ray, stretch, best) {
                    continue;
                }
                match beside(piece, &ray, stretch) {
                    Some((s, by)) => best = nearer(best, Nearest { by, s, target }),
                    None => left.push((target, piece)),
                }
            }
        }
        // What is known without a search leaves little to be searched, and so does what lies nearest.
        left.sort_by(|a, b| a.1.apart_at_least(&ray, stretch).total_cmp(&b.1.apart_at_least(&ray, stretch)));
        for (target, piece) in left {
            if may_be_nearer(piece, &ray, stretch, best)
                && let Some((s, by)) = searched(piece, &ray, stretch)
            {
                best = nearer(best, Nearest { by, s, target });
            }
        }
        best
    }
}

fn may_be_nearer(piece: &Piece, ray: &Ray, stretch: [f64; 2], best: Option<Nearest>) -> bool {
    best.is_none_or(|best| piece.apart_at_least(ray, stretch) <= best.by)
}

/// The nearer of two, the earlier target of two that are as near.
fn nearer(best: Option<Nearest>, next: Nearest) -> Option<Nearest> {
    let is_nearer = |best: Nearest| next.by < best.by || (next.by == best.by && next.target < best.target);
    if best.is_none_or(is_nearer) { Some(next) } else { best }
}

/// Where a stretch of a ray comes nearest to a piece, and how near.
pub(in crate::part) fn nearest_to(piece: &Piece, ray: &Ray, stretch: [f64; 2]) -> Option<(f64, f64)> {
    beside(piece, ray, stretch).or_else(|| searched(piece, ray, stretch))
}

fn searched(piece: &Piece, ray: &Ray, [from, to]: [f64; 2]) -> Option<(f64, f64)> {
    let away = |s: f64| piece.away(ray.at(s));
    let [left, right] = match piece {
        Piece::Torus(bend) => return nearest_to_bend(bend, ray, [from, to]),
        _ if piece.is_convex() => [from, to],
        Piece::Cut(cut) => around_least([from, to], &away, &|s| cut.bar.distance(ray.at(s))),
        _ => around_least([from, to], &away, &|_| f64::NEG_INFINITY),
    };
    let s = least_place(left, right, RESOLVED, away);
    let by = away(s);
    // A ray that runs along a flat face is as near for a while: it comes upon the piece where that begins.
    let is_level = |s: f64| away(s) <= by + LEVEL;
    if piece.is_convex() && s - TRIED_BACK > from && is_level(s - TRIED_BACK) {
        let begins = crossing([(from, away(from) - by - LEVEL), (s, -LEVEL)], RESOLVED, |s| away(s) - by - LEVEL);
        return Some((begins, by));
    }
    Some((s, by))
}

/// The nearest place to the side of a round bar; `None` where an end is nearer, or where the bar was cut off there.
fn beside(piece: &Piece, ray: &Ray, stretch: [f64; 2]) -> Option<(f64, f64)> {
    match piece {
        Piece::Cylinder(bar) => beside_round(bar, ray, stretch),
        Piece::Cut(cut) => {
            let bar = cut.round()?;
            beside_round(bar, ray, stretch).filter(|&(s, _)| cut.has(bar.nearest(ray.at(s))))
        }
        _ => None,
    }
}

fn beside_round(bar: &Cylinder, ray: &Ray, [from, to]: [f64; 2]) -> Option<(f64, f64)> {
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
    let [left, right] = around_least(stretch, &away, &|_| f64::NEG_INFINITY);
    let s = least_place(left, right, RESOLVED, away);
    bend.in_wedge(ray.at(s)).then(|| (s, away(s)))
}

/// About the first of the places tried where it is least: `away` is nowhere below `least`, which costs less.
fn around_least([from, to]: [f64; 2], away: &impl Fn(f64) -> f64, least: &impl Fn(f64) -> f64) -> [f64; 2] {
    let width = (to - from) / f64::from(TRIED);
    let tried = || (0..=TRIED).map(|step| from + width * f64::from(step)).map(|s| (s, least(s)));
    let likely = tried().reduce(|best, next| if next.1 < best.1 { next } else { best });
    let mut most = likely.map_or(f64::INFINITY, |(s, _)| away(s));
    let mut nearest = None;
    for (s, least) in tried() {
        if least > most {
            continue;
        }
        let by = away(s);
        if by < most || (by == most && nearest.is_none()) {
            (most, nearest) = (by, Some(s));
        }
    }
    let nearest = nearest.unwrap_or(from);
    [(nearest - width).max(from), (nearest + width).min(to)]
}
