//! Closed bays: four straight stretches of tube that close in a plane.

use crate::frame::{Frame, Target, fit::tip};
use crate::geometry::DVec3;
use crate::part::Part;
use std::collections::{BTreeMap, BTreeSet};

/// A closed bay.
pub(super) struct Bay {
    /// Its corners on the centrelines, in order round it.
    pub(super) corners: [DVec3; 4],
    /// Ids of the four members, in order round it: the first runs from the first corner to the second.
    pub(super) members: [String; 4],
}

/// Joints closer together along a member than this part of its breadth are one corner.
const TOGETHER: f64 = 1.5;

/// Corners further out of their plane than this part of the shorter diagonal close no flat bay.
const FLAT: f64 = 0.02;

/// Most bays that are looked for.
const MOST: usize = 40;

/// All closed bays, in build order of their corners.
pub(super) fn closed(frame: &Frame, parts: &[Part]) -> Vec<Bay> {
    let (corners, sides) = sides(frame, parts);
    let mut next: Vec<BTreeMap<usize, usize>> = vec![BTreeMap::new(); corners.len()];
    for &(a, b, member) in &sides {
        next[a].insert(b, member);
        next[b].insert(a, member);
    }
    let mut seen = BTreeSet::new();
    let mut bays = Vec::new();
    for a in 0..corners.len() {
        for (&b, &ab) in &next[a] {
            for (&c, &bc) in next[b].iter().filter(|&(&c, &bc)| c > a && bc != ab) {
                for (&d, &cd) in next[c].iter().filter(|&(&d, &cd)| d > b && d != a && cd != bc) {
                    let Some(&da) = next[d].get(&a) else { continue };
                    if da == cd || da == ab || bays.len() >= MOST {
                        continue;
                    }
                    let mut key = [a, b, c, d];
                    key.sort_unstable();
                    let round = [a, b, c, d].map(|corner| corners[corner]);
                    if is_flat(round) && seen.insert(key) {
                        let members = [ab, bc, cd, da].map(|member| frame.members[member].id.clone());
                        bays.push(Bay { corners: round, members });
                    }
                }
            }
        }
    }
    bays
}

/// Corners of the frame, and the straight stretches of members between neighbouring ones.
fn sides(frame: &Frame, parts: &[Part]) -> (Vec<DVec3>, Vec<(usize, usize, usize)>) {
    let mut corners: Vec<DVec3> = Vec::new();
    // For each member the corners on it, by their place along it.
    let mut on: Vec<Vec<(f64, usize)>> = vec![Vec::new(); frame.members.len()];
    for part in parts {
        let member = &frame.members[part.member];
        for (number, end) in part.ends.iter().enumerate() {
            let at_end = if number == 0 { 0.0 } else { member.path.length() };
            let Some(Target::Member(other)) = end.met.iter().copied().find(|met| matches!(met, Target::Member(_)))
            else {
                continue;
            };
            let host = &frame.members[other];
            if !host.path.arcs.is_empty() {
                continue;
            }
            let leg = host.path.first();
            let along = (tip(member, number).origin - leg.start).dot(leg.direction).clamp(0.0, leg.length);
            let together = TOGETHER * frame.section(host).breadth();
            let known = on[other].iter().find(|(place, _)| (place - along).abs() < together).map(|(_, corner)| *corner);
            let corner = known.unwrap_or_else(|| {
                corners.push(leg.start + leg.direction * along);
                corners.len() - 1
            });
            if known.is_none() {
                on[other].push((along, corner));
            }
            on[part.member].push((at_end, corner));
        }
    }
    let mut sides = Vec::new();
    for (member, places) in on.iter_mut().enumerate() {
        if !frame.members[member].path.arcs.is_empty() {
            continue;
        }
        places.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        sides
            .extend(places.windows(2).filter(|pair| pair[0].1 != pair[1].1).map(|pair| (pair[0].1, pair[1].1, member)));
    }
    (corners, sides)
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
