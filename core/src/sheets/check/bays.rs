//! Closed bays: four straight stretches of tube that close in a plane, and their diagonals.

use super::corners::Corners;
use super::mark::{Landing, Mark, outwards};
use crate::frame::{Frame, fit::tip};
use crate::geometry::DVec3;
use crate::part::Part;
use std::collections::{BTreeMap, BTreeSet};

/// A diagonal of a bay.
pub(super) struct Diagonal {
    /// Ids of the two members at either end of it.
    pub(super) joints: [[String; 2]; 2],
    /// Where it runs from and to.
    pub(super) marks: [Mark; 2],
}

/// Corners further out of their plane than this part of the shorter diagonal close no flat bay.
const FLAT: f64 = 0.02;

/// Most bays that are looked for.
const MOST: usize = 60;

/// Both diagonals of every closed bay whose four corners can be found on its tubes, in build order of the corners.
pub(super) fn diagonals(frame: &Frame, parts: &[Part], corners: &Corners) -> Vec<[Diagonal; 2]> {
    let mut next: BTreeMap<usize, BTreeMap<usize, usize>> = BTreeMap::new();
    for &(a, b, member) in &corners.sides {
        next.entry(a).or_default().insert(b, member);
        next.entry(b).or_default().insert(a, member);
    }
    let mut seen = BTreeSet::new();
    let mut bays = Vec::new();
    for (&a, from_a) in &next {
        for (&b, &ab) in from_a {
            for (&c, &bc) in next[&b].iter().filter(|&(&c, &bc)| c > a && bc != ab) {
                for (&d, &cd) in next[&c].iter().filter(|&(&d, &cd)| d > b && d != a && cd != bc) {
                    let Some(&da) = next[&d].get(&a) else { continue };
                    if da == cd || da == ab || bays.len() >= MOST {
                        continue;
                    }
                    let mut key = [a, b, c, d];
                    key.sort_unstable();
                    if seen.insert(key) {
                        let bay = Bay { corners: [a, b, c, d], members: [ab, bc, cd, da] };
                        bays.extend(bay.diagonals(frame, parts, corners));
                    }
                }
            }
        }
    }
    bays
}

struct Bay {
    /// In order round it.
    corners: [usize; 4],
    /// The first runs from the first corner to the second.
    members: [usize; 4],
}

impl Bay {
    fn diagonals(&self, frame: &Frame, parts: &[Part], corners: &Corners) -> Option<[Diagonal; 2]> {
        let mut landings = Vec::with_capacity(4);
        for (number, corner) in self.corners.iter().enumerate() {
            let sides = [self.members[(number + 3) % 4], self.members[number]];
            landings.push(landing(corners, *corner, sides)?);
        }
        let places: Vec<DVec3> =
            landings.iter().map(|landing| tip(&frame.members[landing.member], landing.end).origin).collect();
        let square = (places[2] - places[0]).cross(places[3] - places[1]).try_normalize()?;
        let towards = outwards(square, places.iter().sum::<DVec3>() / 4.0);
        let marks: Vec<Mark> =
            landings.iter().map(|landing| landing.mark(frame, parts, towards)).collect::<Option<_>>()?;
        let [a, b, c, d] = <[Mark; 4]>::try_from(marks).ok()?;
        if !is_flat([a.at, b.at, c.at, d.at]) {
            return None;
        }
        let [at_a, at_b, at_c, at_d] = [0, 1, 2, 3].map(|number| self.joint(frame, number));
        Some([Diagonal::new([(at_a, a), (at_c, c)]), Diagonal::new([(at_b, b), (at_d, d)])])
    }

    /// Ids of the two members that meet at a corner.
    fn joint(&self, frame: &Frame, corner: usize) -> [String; 2] {
        let mut ids = [(corner + 3) % 4, corner].map(|side| frame.members[self.members[side]].id.clone());
        ids.sort();
        ids
    }
}

impl Diagonal {
    /// The same whichever way round the bay was found.
    fn new(mut ends: [([String; 2], Mark); 2]) -> Self {
        ends.sort_by(|a, b| a.0.cmp(&b.0));
        let [(from, a), (to, b)] = ends;
        Self { joints: [from, to], marks: [a, b] }
    }
}

/// Where one of two members is fitted to the other at a corner.
fn landing(corners: &Corners, corner: usize, [one, other]: [usize; 2]) -> Option<Landing> {
    let joins = |landing: &&Landing| {
        (landing.member, landing.host) == (one, other) || (landing.member, landing.host) == (other, one)
    };
    corners.landings.get(&corner)?.iter().filter(joins).min().copied()
}

fn is_flat([a, b, c, d]: [DVec3; 4]) -> bool {
    let (first, second) = (c - a, d - b);
    let square = first.cross(second);
    let short = first.length().min(second.length());
    square.length() > 0.1 * first.length() * second.length()
        && (b - a).dot(square).abs() / square.length() < FLAT * short
        // Diagonals of a bay cross inside it.
        && (b - a).cross(first).dot(first.cross(d - a)) > 0.0
        && (a - b).cross(second).dot(second.cross(c - b)) > 0.0
}
