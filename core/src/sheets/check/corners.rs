//! Corners of the frame: joints that lie so close together that a bay has them for one corner.

use super::mark::Landing;
use crate::frame::{Frame, Target};
use crate::part::Part;
use std::collections::{BTreeMap, BTreeSet};

/// Joints closer together along a member than this part of its breadth are one corner.
const TOGETHER: f64 = 1.5;

/// The corners of a frame.
pub(super) struct Corners {
    /// Landings by the corner at which they are.
    pub(super) landings: BTreeMap<usize, Vec<Landing>>,
    /// Straight stretches between neighbouring corners: both corners and the member.
    pub(super) sides: Vec<(usize, usize, usize)>,
    of_end: Vec<usize>,
}

impl Corners {
    pub(super) fn of(frame: &Frame, parts: &[Part]) -> Self {
        let mut joined = Joined((0..2 * frame.members.len()).collect());
        // For each leg of each member the ends on it, by their place along it.
        let mut on: BTreeMap<(usize, usize), Vec<(f64, usize)>> = BTreeMap::new();
        let mut landings = Vec::new();
        for part in parts {
            let path = &frame.members[part.member].path;
            for (end, made) in part.ends.iter().enumerate() {
                let hosts: BTreeSet<usize> = made.met.iter().filter_map(member).collect();
                let element = 2 * part.member + end;
                if !hosts.is_empty() {
                    let own = if end == 0 { (0, 0.0) } else { (path.legs.len() - 1, path.last().length) };
                    on.entry((part.member, own.0)).or_default().push((own.1, element));
                }
                for host in hosts {
                    let landing = Landing { member: part.member, end, host };
                    if let Some((leg, along)) = landing.leg(frame) {
                        on.entry((host, leg)).or_default().push((along, element));
                        landings.push(landing);
                    }
                }
            }
        }
        for (&(host, _), places) in &mut on {
            places.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            let together = TOGETHER * frame.section(&frame.members[host]).breadth();
            for pair in places.windows(2).filter(|pair| pair[1].0 - pair[0].0 < together) {
                joined.join(pair[0].1, pair[1].1);
            }
        }
        let of_end: Vec<usize> = (0..2 * frame.members.len()).map(|element| joined.root(element)).collect();
        let mut by_corner: BTreeMap<usize, Vec<Landing>> = BTreeMap::new();
        for landing in landings {
            by_corner.entry(of_end[2 * landing.member + landing.end]).or_default().push(landing);
        }
        let mut sides = Vec::new();
        for (&(member, _), places) in &on {
            let corners = places.windows(2).map(|pair| [of_end[pair[0].1], of_end[pair[1].1]]);
            sides.extend(corners.filter(|[a, b]| a != b).map(|[a, b]| (a, b, member)));
        }
        Self { landings: by_corner, sides, of_end }
    }

    /// The corner at which a member's end is.
    pub(super) fn at(&self, member: usize, end: usize) -> usize {
        self.of_end[2 * member + end]
    }
}

fn member(target: &Target) -> Option<usize> {
    if let Target::Member(member) = target { Some(*member) } else { None }
}

/// Which ends are at one corner: each points to one with a lower number, or is the first.
struct Joined(Vec<usize>);

impl Joined {
    fn root(&self, mut element: usize) -> usize {
        while self.0[element] != element {
            element = self.0[element];
        }
        element
    }

    fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.root(a), self.root(b));
        self.0[a.max(b)] = a.min(b);
    }
}
