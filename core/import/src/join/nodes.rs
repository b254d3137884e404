//! Ends that are one point.

use super::Segment;
use crate::report::{Code, Notes};
use crate::words::join::{JoinFact, Place};
use glam::DVec3;
use std::collections::HashMap;

/// Gaps up to this come from rounding and are not worth a word, mm.
const ROUNDING: f64 = 0.002;

/// The points at which segments end.
#[derive(Debug, Default)]
pub struct Nodes {
    /// Of each segment the node of its first and last end.
    pub ends: Vec<[usize; 2]>,
    seeds: Vec<DVec3>,
    sums: Vec<(DVec3, f64)>,
    members: Vec<Vec<DVec3>>,
}

impl Nodes {
    /// Joins ends that lie within a tolerance of a node's first one, so that no chain of near ends grows without bound.
    pub fn of(segments: &[Segment], tolerance: f64) -> Self {
        let mut nodes = Self::default();
        let cell = tolerance.max(1e-6);
        let mut grid: HashMap<[i64; 3], Vec<usize>> = HashMap::new();
        #[expect(clippy::cast_possible_truncation, reason = "frames are some metres long")]
        let key = |place: DVec3| (place / cell).floor().to_array().map(|number| number as i64);
        for segment in segments {
            let ends = [segment.piece.first(), segment.piece.last()];
            nodes.ends.push(ends.map(|end| {
                let [x, y, z] = key(end);
                let mut nearest: Option<(f64, usize)> = None;
                for step in 0..27 {
                    let near = [x + step % 3 - 1, y + step / 3 % 3 - 1, z + step / 9 - 1];
                    for &node in grid.get(&near).into_iter().flatten() {
                        let distance = nodes.seeds[node].distance(end);
                        if distance <= cell && nearest.is_none_or(|(other, _)| distance < other) {
                            nearest = Some((distance, node));
                        }
                    }
                }
                let node = nearest.map_or_else(
                    || {
                        nodes.seeds.push(end);
                        nodes.sums.push((DVec3::ZERO, 0.0));
                        nodes.members.push(Vec::new());
                        grid.entry([x, y, z]).or_default().push(nodes.seeds.len() - 1);
                        nodes.seeds.len() - 1
                    },
                    |(_, node)| node,
                );
                nodes.sums[node].0 += end;
                nodes.sums[node].1 += 1.0;
                if nodes.members[node].len() < 16 {
                    nodes.members[node].push(end);
                }
                node
            }));
        }
        nodes
    }

    /// How many nodes there are.
    pub fn len(&self) -> usize {
        self.seeds.len()
    }

    /// The place of a node: the middle of its ends.
    pub fn place(&self, node: usize) -> DVec3 {
        self.sums[node].0 / self.sums[node].1
    }

    fn gap(&self, node: usize) -> f64 {
        let members = &self.members[node];
        let distances = members.iter().flat_map(|one| members.iter().map(move |other| one.distance(*other)));
        distances.fold(0.0, f64::max)
    }

    /// The largest distance between ends that became one, mm.
    pub fn largest_gap(&self) -> f64 {
        (0..self.len()).map(|node| self.gap(node)).fold(0.0, f64::max)
    }

    /// Says which gaps were closed, the largest first.
    pub fn report(&self, notes: &mut Notes) {
        let mut gaps: Vec<(f64, usize)> =
            (0..self.len()).map(|node| (self.gap(node), node)).filter(|(gap, _)| *gap > ROUNDING).collect();
        gaps.sort_by(|a, b| b.0.total_cmp(&a.0));
        for (gap, node) in gaps {
            let fact = JoinFact::GapClosed { ends: self.members[node].len(), gap };
            notes.information(Code::GapClosed, Place::from(self.place(node)).to_string(), fact);
        }
    }
}
