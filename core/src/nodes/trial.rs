//! A node on its own, cut as the rules say, to be looked at before anything is written.

use super::decided::{Decided, Role};
use super::end::EndAt;
use super::find::Node;
use super::limits::SEATS;
use crate::frame::fit::{halving, tip};
use crate::frame::{CutKind, Fit, Frame, Target};
use crate::geometry::{DVec3, HalfSpace};
use crate::part::{PartEnd, targets_needed};
use crate::{Stop, Stopped};
use std::collections::{BTreeMap, BTreeSet};

/// The members and plates of one node.
pub(super) struct Trial {
    frame: Frame,
    /// Positions in the whole frame by those in this one.
    members: Vec<usize>,
    plates: Vec<usize>,
    here: BTreeMap<Target, Target>,
}

impl Trial {
    pub(super) fn of(frame: &Frame, node: &Node) -> Self {
        let own = node.ends.iter().map(|end| end.at.0);
        let fitted = node.ends.iter().flat_map(|end| &frame.members[end.at.0].ends[end.at.1].targets);
        let others = node.passing.iter().chain(node.beside.values().flatten());
        let targets: BTreeSet<Target> = own.map(Target::Member).chain(fitted.copied()).chain(others.copied()).collect();
        let (mut members, mut plates, mut here) = (Vec::new(), Vec::new(), BTreeMap::new());
        for target in targets {
            match target {
                Target::Member(member) => {
                    here.insert(target, Target::Member(members.len()));
                    members.push(member);
                }
                Target::Plate(plate) => {
                    here.insert(target, Target::Plate(plates.len()));
                    plates.push(plate);
                }
            }
        }
        let mut trial = Self {
            frame: Frame {
                sections: frame.sections.clone(),
                members: members.iter().map(|&member| frame.members[member].clone()).collect(),
                plates: plates.iter().map(|&plate| frame.plates[plate].clone()).collect(),
                base: frame.base,
            },
            members,
            plates,
            here,
        };
        trial.keep_given(node);
        trial
    }

    /// Ends of the node that the document cuts keep their cut; all others are square for now.
    fn keep_given(&mut self, node: &Node) {
        for number in 0..self.members.len() {
            for end in 0..2 {
                let at = (self.members[number], end);
                let is_given = node.end(at).is_some_and(|end| !end.is_open());
                let square = self.square(number, end);
                let fit = &mut self.frame.members[number].ends[end];
                if is_given {
                    fit.targets = fit.targets.iter().filter_map(|target| self.here.get(target).copied()).collect();
                    fit.plane_of = fit.plane_of.and_then(|target| self.here.get(&target).copied());
                } else {
                    *fit = square;
                }
            }
        }
    }

    fn square(&self, number: usize, end: usize) -> Fit {
        let tip = tip(&self.frame.members[number], end);
        let plane = HalfSpace { point: tip.origin, normal: -tip.direction };
        Fit { kind: CutKind::Square, by_default: false, targets: Vec::new(), plane: Some(plane), plane_of: None }
    }

    fn number(&self, member: usize) -> Option<usize> {
        match self.here.get(&Target::Member(member)) {
            Some(Target::Member(number)) => Some(*number),
            _ => None,
        }
    }

    /// Cuts an end as decided.
    pub(super) fn cut(&mut self, decided: &Decided) {
        let Some(number) = self.number(decided.at.0) else { return };
        let end = decided.at.1;
        let targets: Vec<Target> = decided.onto.iter().filter_map(|target| self.here.get(target).copied()).collect();
        let tip = tip(&self.frame.members[number], end);
        let fit = match (decided.role, decided.partner) {
            (Role::RunOn(by), _) => {
                let more = by - self.frame.members[number].run_on[end];
                self.frame.let_run_on(number, end, more);
                self.square(number, end)
            }
            (Role::Square, _) => self.square(number, end),
            (Role::Mitre, Some(partner)) => {
                let partner = self.number(partner.0).map(|there| (there, partner.1));
                let plane = partner.and_then(|(there, there_end)| {
                    let pair = [(number, end), (there, there_end)];
                    let profiles = pair.map(|(member, _)| self.frame.section(&self.frame.members[member]).profile);
                    halving(pair.map(|(member, end)| (&self.frame.members[member], end)), profiles)
                });
                Fit {
                    kind: CutKind::Mitre,
                    by_default: false,
                    targets: Vec::new(),
                    plane: plane.map(|joint| joint.plane),
                    plane_of: None,
                }
            }
            (Role::Mitre | Role::Cope, _) => {
                let normal = if tip.direction.y > 0.0 { DVec3::NEG_Y } else { DVec3::Y };
                let plane = HalfSpace { point: DVec3::new(tip.origin.x, 0.0, tip.origin.z), normal };
                let plane = decided.on_middle.then_some(plane);
                let kind = match (targets.is_empty(), plane.is_some()) {
                    (true, _) => CutKind::Mitre,
                    (false, true) => CutKind::CopeAndMitre,
                    (false, false) => CutKind::Cope,
                };
                Fit { kind, by_default: false, targets, plane, plane_of: None }
            }
        };
        self.frame.members[number].ends[end] = fit;
    }

    /// Which of the things that an end is fitted to its wall needs.
    pub(super) fn needed(&self, at: EndAt, stop: Stop) -> Result<Vec<Target>, Stopped> {
        let Some(number) = self.number(at.0) else { return Ok(Vec::new()) };
        let needed = targets_needed(&self.frame, number, at.1, stop)?;
        let there = needed.into_iter().map(|target| match target {
            Target::Member(number) => Target::Member(self.members[number]),
            Target::Plate(number) => Target::Plate(self.plates[number]),
        });
        Ok(there.collect())
    }

    /// By how much the wall of an end passes by what it is fitted to, mm.
    pub(super) fn passes_by(&self, at: EndAt, stop: Stop) -> Result<f64, Stopped> {
        let Some(number) = self.number(at.0) else { return Ok(0.0) };
        let seat = PartEnd::of(&self.frame, number, at.1, stop)?.seat;
        let by = seat.gap.map_or(0.0, |gap| gap.by) + seat.open.map_or(0.0, |open| open.in_bore);
        Ok(if by <= SEATS { 0.0 } else { by })
    }
}
