//! What cannot be made so, and what is to be known of the rest.

use super::Rules;
use crate::frame::Target;
use crate::geometry::DVec3;
use crate::nodes::decided::{Decided, Outcome, Role};
use crate::nodes::end::{End, angle, size};
use crate::nodes::limits::{AXES_APART, EQUAL, LONGEST_RUN_ON, ONE_TUBE, SHARP, in_steps};
use crate::nodes::told::Told;

impl Rules<'_> {
    pub(super) fn judge(&self, trunk: &[End], outcome: &mut Outcome) {
        let mut told = Vec::new();
        if let [a, b] = trunk {
            let (between, apart) = a.axes(b);
            let pair = [a.member(), b.member()];
            if between >= ONE_TUBE {
                told.push(Told::OneTube(pair));
            }
            if apart > AXES_APART {
                told.push(Told::AxesApart(pair, apart));
            }
        }
        let runs = outcome.decided.iter().filter_map(|decided| match decided.role {
            Role::RunOn(by) => Some((decided.at, by)),
            _ => None,
        });
        for (at, by) in runs.chain(outcome.passing_runs_on.iter().copied()) {
            let profile = self.frame.section(&self.frame.members[at.0]).profile;
            if in_steps(by) > LONGEST_RUN_ON * size(profile) {
                told.push(Told::RunOnTooLong(at, by));
            }
        }
        for decided in outcome.decided.iter().filter(|decided| decided.role == Role::Cope) {
            let Some(end) = self.node.end(decided.at) else { continue };
            for &target in &decided.onto {
                let Some((away, passes)) = self.away(target, end.tip.origin) else { continue };
                let between = angle(end.away(), away);
                let sharpest = if passes { between.min(180.0 - between) } else { between };
                let runs_on = |other: &Decided| other.at.0 == member(target) && matches!(other.role, Role::RunOn(_));
                if sharpest < SHARP {
                    told.push(Told::TooSharp(end.at, target, sharpest));
                } else if between > 180.0 - SHARP && !passes && outcome.decided.iter().any(runs_on) {
                    told.push(Told::InLineUnequal(end.at, target, between));
                }
            }
            if let Some((onto, by)) = self.larger_than_all(end, &decided.onto) {
                told.push(Told::LargerOntoSmaller(end.at, onto, by));
            }
        }
        outcome.told.extend(told);
    }

    /// The largest of the tubes that pass, where an end is larger than all of them, and half the difference, mm.
    fn larger_than_all(&self, end: &End, onto: &[Target]) -> Option<(Target, f64)> {
        let passing = onto.iter().filter(|target| self.node.passing.contains(target));
        let sized = passing.map(|&target| match target {
            Target::Member(member) => (target, size(self.frame.section(&self.frame.members[member]).profile)),
            Target::Plate(_) => (target, f64::INFINITY),
        });
        let largest = sized.max_by(|a, b| a.1.total_cmp(&b.1))?;
        (end.size() > largest.1 + EQUAL).then_some((largest.0, (end.size() - largest.1) / 2.0))
    }

    /// Direction of a target's axis near a point, away from the node, and whether it passes; `None` for a plate and in a bend.
    fn away(&self, target: Target, near: DVec3) -> Option<(DVec3, bool)> {
        if let Some(end) = self.node.ends.iter().find(|end| end.member() == target) {
            return Some((end.away(), false));
        }
        let Target::Member(member) = target else { return None };
        let legs = &self.frame.members[member].path.legs;
        let apart = |leg: &&crate::geometry::Leg| {
            let along = (near - leg.start).dot(leg.direction);
            ((0.0..=leg.length).contains(&along) || legs.len() == 1)
                .then(|| (near - leg.start).reject_from_normalized(leg.direction).length())
        };
        let nearest = legs.iter().filter_map(|leg| Some((apart(&leg)?, leg))).min_by(|a, b| a.0.total_cmp(&b.0))?;
        Some((nearest.1.direction, true))
    }
}

fn member(target: Target) -> usize {
    match target {
        Target::Member(member) => member,
        Target::Plate(_) => usize::MAX,
    }
}
