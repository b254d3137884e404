//! Which options act on each other: those that put or leave out what one finding can depend on.

use super::cover::Combination;
use crate::document::{Design, Finding, Findings, Name, other_hand};
use crate::frame::{Frame, Target, fit};
use crate::geometry::{Bounds, Ray, Tree};
use crate::words::findings::sheets::Meeting;
use std::collections::BTreeMap;

/// Options as bits, in order of their names.
pub(super) type Group = u64;

/// How many times what an end is fitted to is looked up: the end, what it is fitted to, what that is cut by, and what that ends at.
const DEPTH: usize = 3;

/// How far a part may reach past its drawn ends, in breadths of both parts.
const PAST: f64 = 3.0;

/// The options of a design.
pub(super) struct Options {
    names: Vec<String>,
    choices: Vec<Vec<String>>,
}

impl Options {
    pub(super) fn of(design: &Design) -> Self {
        let options = design.options.iter().flatten();
        let (names, choices) = options
            .map(|(name, option)| {
                (name.clone(), option.choices.iter().map(|choice| choice.as_str().to_owned()).collect())
            })
            .unzip();
        Self { names, choices }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.names.is_empty()
    }

    pub(super) fn count(&self) -> usize {
        self.names.len()
    }

    pub(super) fn number_of_choices(&self, option: usize) -> usize {
        self.choices[option].len()
    }

    /// All of them.
    pub(super) fn all(&self) -> Group {
        (0..self.count()).fold(0, |all, option| all | 1 << option)
    }

    /// How many combinations there are; `None` when that is past counting.
    pub(super) fn combinations(&self) -> Option<usize> {
        self.combinations_of(self.all())
    }

    /// How many combinations of the choices of a group there are.
    pub(super) fn combinations_of(&self, group: Group) -> Option<usize> {
        self.within(group).try_fold(1_usize, |all, option| all.checked_mul(self.number_of_choices(option).max(1)))
    }

    /// The choices of a combination by name, of the options in a group.
    pub(super) fn choices(&self, combination: &Combination, group: Group) -> BTreeMap<String, String> {
        let chosen = |option: usize| {
            self.choices[option].get(combination[option]).map(|choice| (self.names[option].clone(), choice.clone()))
        };
        self.within(group).filter_map(chosen).collect()
    }

    /// The names of a group's options.
    pub(super) fn named_in(&self, group: Group) -> Vec<&str> {
        self.within(group).map(|option| self.names[option].as_str()).collect()
    }

    fn within(&self, group: Group) -> impl Iterator<Item = usize> + '_ {
        (0..self.count()).filter(move |option| group & (1 << option) != 0)
    }

    fn named(&self, when: Option<&BTreeMap<String, Name>>) -> Group {
        let bit = |option: &String| self.names.binary_search(option).map_or(0, |option| 1 << option);
        when.into_iter().flatten().fold(0, |group, (option, _)| group | bit(option))
    }
}

/// Which options act on what.
pub(super) struct Meetings {
    /// On a member or plate, by id.
    on: BTreeMap<String, Group>,
    /// Groups that act together, with the ids of what they act on; none is part of another.
    groups: BTreeMap<Group, [String; 2]>,
}

impl Meetings {
    /// Looks at the design with everything in place at once: whether one thing runs into another does not hang on a third.
    pub(super) fn of(design: &Design, options: &Options) -> Self {
        let frame = Frame::of(design, &vec![true; design.members.len()], &mut Findings::default());
        let plates = plates(design, options, &frame);
        let boxes: Vec<Bounds> = frame.members.iter().map(|member| fit::bounds(&frame, member)).collect();
        let tree = Tree::new(&boxes);
        let beside: Vec<Vec<usize>> =
            frame.plates.iter().map(|placed| tree.overlapping(&fit::plate_bounds(&placed.plate))).collect();
        let members = members(design, options, &frame, &plates, &beside);
        let mut meetings = Self { on: BTreeMap::new(), groups: BTreeMap::new() };
        for (member, &group) in frame.members.iter().zip(&members) {
            meetings.on.insert(member.id.clone(), group);
            meetings.add(group, [&member.id, ""]);
        }
        for (placed, &group) in frame.plates.iter().zip(&plates) {
            meetings.on.insert(placed.id.clone(), group);
            meetings.add(group, [&placed.id, ""]);
        }
        for (first, second) in tree.pairs() {
            let group = members[first] | members[second];
            if meetings.is_new(group) && come_near(&frame, first, second) {
                meetings.add(group, [&frame.members[first].id, &frame.members[second].id]);
            }
        }
        for (plate, near) in beside.iter().enumerate() {
            for &member in near {
                meetings.add(plates[plate] | members[member], [&frame.plates[plate].id, &frame.members[member].id]);
            }
        }
        for (position, member) in frame.members.iter().enumerate() {
            if let Some(opposite) = member.opposite.filter(|&opposite| opposite > position) {
                let ids = [member.id.as_str(), frame.members[opposite].id.as_str()];
                meetings.add(members[position] | members[opposite], ids);
            }
        }
        meetings.add_numbered(&frame, &members);
        for (hole, described) in design.holes.iter().flatten() {
            let on = meetings.on.get(described.member.as_str()).copied().unwrap_or(0);
            meetings.add(options.named(described.when.as_ref()) | on, [described.member.as_str(), hole]);
        }
        meetings
    }

    /// Parts whose numbers the document fixes are compared with each other wherever they are.
    fn add_numbered(&mut self, frame: &Frame, members: &[Group]) {
        let mut kinds: BTreeMap<usize, BTreeMap<Group, &str>> = BTreeMap::new();
        for (member, &group) in frame.members.iter().zip(members) {
            if member.part_number.is_some() {
                kinds.entry(member.section).or_default().entry(group).or_insert(&member.id);
            }
        }
        for same in kinds.values() {
            for (one, id) in same {
                for (other, other_id) in same {
                    self.add(one | other, [id, other_id]);
                }
            }
        }
    }

    fn is_new(&self, group: Group) -> bool {
        group != 0 && !self.groups.keys().any(|known| known & group == group)
    }

    fn add(&mut self, group: Group, ids: [&str; 2]) {
        if self.is_new(group) {
            self.groups.retain(|known, _| known & group != *known);
            self.groups.insert(group, ids.map(str::to_owned));
        }
    }

    pub(super) fn groups(&self) -> Vec<Group> {
        self.groups.keys().copied().collect()
    }

    /// Where a group meets.
    pub(super) fn example(&self, group: Group) -> Meeting<'_> {
        match self.groups.get(&group) {
            Some([one, other]) if other.is_empty() => Meeting::At(one),
            Some([one, other]) => Meeting::Between(one, other),
            None => Meeting::Unknown,
        }
    }

    /// The options that act on what a finding is about; 0 when it names nothing.
    pub(super) fn acting_on(&self, finding: &Finding) -> Group {
        finding.members.iter().filter_map(|id| self.on.get(id)).fold(0, |all, group| all | group)
    }
}

/// What acts on each plate: its own options, and those of the members on and after which it is placed.
fn plates(design: &Design, options: &Options, frame: &Frame) -> Vec<Group> {
    let when_of = |id: &str| {
        let member = frame.members.iter().find(|member| member.id == id);
        member.map_or(0, |member| options.named(design.members[member.source].when.as_ref()))
    };
    let of = |source: &String| {
        let Some(plate) = design.plates.as_ref().and_then(|plates| plates.get(source)) else { return 0 };
        let named = plate.after.iter().chain(&plate.place.on).map(|name| name.as_str());
        let hands = named.flat_map(|name| [Some(name.to_owned()), other_hand(name)]).flatten();
        hands.fold(options.named(plate.when.as_ref()), |group, id| group | when_of(&id))
    };
    frame.plates.iter().map(|placed| of(&placed.source)).collect()
}

/// What acts on each member: its own options, those of what its ends are or may be fitted to, and of what those are cut by.
fn members(design: &Design, options: &Options, frame: &Frame, plates: &[Group], beside: &[Vec<usize>]) -> Vec<Group> {
    let mut own: Vec<Group> =
        frame.members.iter().map(|member| options.named(design.members[member.source].when.as_ref())).collect();
    // Whether a plate comes before a member can hang on whether the member that it follows is there.
    for (plate, near) in beside.iter().enumerate() {
        for &member in near {
            own[member] |= plates[plate];
        }
    }
    let mut acting = own.clone();
    for _ in 0..DEPTH {
        let of = |target: &Target| match *target {
            Target::Member(member) => acting[member],
            Target::Plate(plate) => plates[plate],
        };
        let deeper = frame.members.iter().zip(&own).map(|(member, &own)| {
            let targets = member.ends.iter().flat_map(|end| end.targets.iter().chain(&end.plane_of));
            targets.fold(own, |group, target| group | of(target))
        });
        acting = deeper.collect();
    }
    acting
}

/// False when two straight members pass each other too far away to share space.
fn come_near(frame: &Frame, first: usize, second: usize) -> bool {
    let (one, other) = (&frame.members[first], &frame.members[second]);
    if !one.path.arcs.is_empty() || !other.path.arcs.is_empty() {
        return true;
    }
    let reach = frame.section(one).profile.reach() + frame.section(other).profile.reach();
    let [line, beside] = [one, other].map(|member| member.path.first());
    let ray = |leg: crate::geometry::Leg| Ray { origin: leg.start, direction: leg.direction };
    let past = PAST * 2.0 * reach;
    ray(line).apart([-past, line.length + past], &ray(beside), [-past, beside.length + past]) <= reach
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_group_is_part_of_another() {
        let mut meetings = Meetings { on: BTreeMap::new(), groups: BTreeMap::new() };
        for group in [0b001, 0b011, 0b010, 0b000, 0b100, 0b111] {
            meetings.add(group, ["a", ""]);
        }
        assert_eq!(meetings.groups(), [0b111]);
    }
}
