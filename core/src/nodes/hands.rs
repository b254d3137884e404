//! Opposite hands: which ends, members and nodes are mirror images of one another across y = 0.

use super::end::{End, EndAt};
use super::find::Node;
use super::limits::{HANDS, HANDS_TURNED, REACH};
use crate::frame::{Frame, Target};
use crate::geometry::{DVec3, mirrored};
use std::collections::BTreeMap;

/// Mirror images of ends.
pub(super) struct Hands {
    ends: BTreeMap<EndAt, EndAt>,
}

impl Hands {
    pub(super) fn of(frame: &Frame, ends: &[End]) -> Self {
        #[allow(clippy::cast_possible_truncation, reason = "coordinates are bounded by the reader")]
        let cell = |point: DVec3| [point.x, point.y, point.z].map(|at| (at / REACH).floor() as i64);
        let mut cells: BTreeMap<[i64; 3], Vec<&End>> = BTreeMap::new();
        for end in ends {
            cells.entry(cell(end.tip.origin)).or_default().push(end);
        }
        let image = |end: &End| {
            let (at, out) = (mirrored(end.tip.origin), mirrored(end.tip.direction));
            let [x, y, z] = cell(at);
            let near =
                (0..27).filter_map(|step| cells.get(&[x + step % 3 - 1, y + step / 3 % 3 - 1, z + step / 9 - 1]));
            let alike = |other: &&&End| {
                other.profile == end.profile
                    && other.given == end.given
                    && other.tip.origin.distance(at) <= HANDS
                    && other.tip.direction.distance(out) <= HANDS_TURNED
                    && is_image(frame, end, other)
            };
            let alike = near.flatten().filter(alike).map(|other| other.at).min();
            // The document's own pairs come first.
            let member = &frame.members[end.at.0];
            let own = member.opposite.map(|opposite| (opposite, end.at.1));
            own.or(alike)
        };
        Self { ends: ends.iter().filter_map(|end| Some((end.at, image(end)?))).collect() }
    }

    /// The mirror image of an end: itself where it lies in the middle plane.
    pub(super) fn end(&self, at: EndAt) -> Option<EndAt> {
        self.ends.get(&at).copied()
    }

    /// The mirror image of a member or plate.
    pub(super) fn target(&self, frame: &Frame, target: Target) -> Option<Target> {
        match target {
            Target::Member(member) => self.end((member, 0)).map(|(image, _)| Target::Member(image)),
            Target::Plate(plate) => Some(Target::Plate(frame.plates[plate].opposite.unwrap_or(plate))),
        }
    }

    /// True when a node is its own mirror image.
    pub(super) fn is_in_middle(&self, node: &Node) -> bool {
        node.at().y.abs() <= HANDS
            && node.ends.iter().all(|end| self.end(end.at).is_some_and(|image| node.end(image).is_some()))
    }

    /// The node of which this one is the mirror image, by its position among those before it.
    pub(super) fn image(
        &self,
        frame: &Frame,
        nodes: &[Node],
        by_end: &BTreeMap<EndAt, usize>,
        own: usize,
    ) -> Option<usize> {
        let node = &nodes[own];
        let mut there = node.ends.iter().map(|end| self.end(end.at).and_then(|image| by_end.get(&image).copied()));
        let image = there.next()??;
        let is_whole = there.all(|other| other == Some(image)) && nodes[image].ends.len() == node.ends.len();
        let passing = node.passing.iter().map(|&target| self.target(frame, target));
        let mut passing: Vec<_> = passing.collect::<Option<_>>()?;
        passing.sort_unstable();
        (is_whole && image < own && passing == nodes[image].passing).then_some(image)
    }
}

/// True when the far end of one member lies opposite that of the other too.
fn is_image(frame: &Frame, end: &End, other: &End) -> bool {
    let far = |at: EndAt| {
        let path = &frame.members[at.0].path;
        if at.1 == 0 { path.end() } else { path.start() }
    };
    mirrored(far(end.at)).distance(far(other.at)) <= HANDS
}
