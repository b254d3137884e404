//! Holes of one part against those of another.

use super::motion::{Motion, least_turn};
use super::shape::{Hole, Shape};

/// Most by which diameters may differ and still be the same drill, mm.
const DRILL: f64 = 0.05;

fn is_kind_of(a: &Hole, b: &Hole) -> bool {
    a.opposite.is_some() == b.opposite.is_some() && (a.diameter - b.diameter).abs() <= DRILL
}

/// True when both lists have as many holes of each kind.
pub(super) fn same_kinds(a: &[Hole], b: &[Hole]) -> bool {
    let kinds = |holes: &[Hole]| {
        let mut kinds: Vec<(bool, f64)> = holes.iter().map(|hole| (hole.opposite.is_some(), hole.diameter)).collect();
        kinds.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
        kinds
    };
    a.len() == b.len() && kinds(a).iter().zip(&kinds(b)).all(|(a, b)| a.0 == b.0 && (a.1 - b.1).abs() <= DRILL)
}

/// By how much a moved hole stands off another in clock angle, radians. A hole through both walls has no sense.
fn clock_off(motion: &Motion, hole: &Hole, other: &Hole) -> f64 {
    let off = |from: f64, to: f64| least_turn(motion.clock(from) - to);
    let (Some(out), Some(other_out)) = (hole.opposite, other.opposite) else {
        return off(hole.clock, other.clock);
    };
    let larger = |a: f64, b: f64| if a.abs() > b.abs() { a } else { b };
    let along = larger(off(hole.clock, other.clock), off(out, other_out));
    let against = larger(off(hole.clock, other_out), off(out, other.clock));
    if along.abs() <= against.abs() { along } else { against }
}

/// A hole of `a` and the hole of `b` that it lies on or nearest to.
pub(super) struct Pair {
    pub first: usize,
    pub second: usize,
    /// From the second's clock angle to where the first's comes to lie, radians.
    pub clock: f64,
    /// The same of stations, mm.
    pub station: f64,
}

impl Pair {
    /// Distance of both on the outer surface, mm.
    pub fn distance(&self, reach: f64) -> f64 {
        libm::hypot(self.clock * reach, self.station)
    }
}

/// Pairs up holes of the same kind, the nearest first.
pub(super) fn pairs(a: &Shape, b: &Shape, motion: &Motion) -> Vec<Pair> {
    let reach = a.profile.reach();
    let mut all: Vec<Pair> = Vec::new();
    for (first, hole) in a.holes.iter().enumerate() {
        let station = motion.station(hole.station);
        for (second, other) in b.holes.iter().enumerate().filter(|(_, other)| is_kind_of(hole, other)) {
            let clock = clock_off(motion, hole, other);
            all.push(Pair { first, second, clock, station: station - other.station });
        }
    }
    all.sort_by(|p, q| p.distance(reach).total_cmp(&q.distance(reach)));
    let mut kept: Vec<Pair> = Vec::new();
    for pair in all {
        if kept.iter().all(|other| other.first != pair.first && other.second != pair.second) {
            kept.push(pair);
        }
    }
    kept
}

/// Turns and slides that put a hole of `a` on one of `b`.
pub(super) fn alignments(a: &Shape, b: &Shape, swapped: bool) -> Vec<Motion> {
    let mut found = Vec::new();
    for hole in &a.holes {
        for other in b.holes.iter().filter(|other| is_kind_of(hole, other)) {
            let (clock, station) = if swapped { (hole.clock, hole.station) } else { (-hole.clock, -hole.station) };
            for there in [Some(other.clock), other.opposite].into_iter().flatten() {
                let turn = (there + clock).rem_euclid(core::f64::consts::TAU);
                found.push(Motion { swapped, turn, slide: other.station + station });
            }
        }
    }
    found
}
