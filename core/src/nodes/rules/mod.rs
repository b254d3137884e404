//! The rules, in their order: what goes through or runs on, then who is fitted to whom.

mod judge;
mod placing;
mod trunk;

use super::decided::{Outcome, Role};
use super::end::{End, EndAt};
use super::find::Node;
use super::hands::Hands;
use super::limits::SEATS;
use super::run_on::run_on;
use super::told::Told;
use super::trial::Trial;
use crate::frame::{Frame, Target};
use crate::{Stop, Stopped};
use trunk::Trunk;

/// How much build order weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Order {
    /// It decides ties.
    Ties,
    /// Before whether a pair goes straight on or is sharp: it breaks circles.
    First,
}

/// A node under the rules.
pub(super) struct Rules<'a> {
    pub(super) frame: &'a Frame,
    pub(super) hands: &'a Hands,
    pub(super) node: &'a Node,
    pub(super) order: Order,
    pub(super) stop: Stop<'a>,
}

impl Rules<'_> {
    /// Decides all of a node.
    pub(super) fn decide(&self) -> Result<Outcome, Stopped> {
        if let ([end], true, true) = (&self.node.ends[..], self.node.passing.is_empty(), self.stands_alone()) {
            return Ok(self.alone(end));
        }
        match self.trunk() {
            Trunk::Settled(trunk) => self.with(&trunk),
            // The first in build order whose run-on lets all others seat.
            Trunk::OneOf(candidates) => {
                let mut best: Option<(f64, Outcome)> = None;
                for candidate in candidates {
                    let outcome = self.with(&[candidate])?;
                    let lack = self.lack(&outcome)?;
                    if best.as_ref().is_none_or(|(least, _)| lack < least - SEATS) {
                        best = Some((lack, outcome));
                    }
                    if best.as_ref().is_some_and(|(least, _)| *least == 0.0) {
                        break;
                    }
                }
                Ok(best.map_or_else(Outcome::default, |(_, outcome)| outcome))
            }
        }
    }

    fn stands_alone(&self) -> bool {
        self.node.beside.values().all(Vec::is_empty)
    }

    /// An end that meets nothing stays square.
    fn alone(&self, end: &End) -> Outcome {
        let short = self.node.short_of.map(|(of, by)| Told::StopsShort(end.at, of, by));
        let decided = vec![placing::plain(end.at, Role::Square)];
        Outcome { decided, told: short.into_iter().collect(), ..Outcome::default() }
    }

    /// All of the node with the trunk chosen: placed, trimmed to what is needed, run on and judged.
    fn with(&self, trunk: &[End]) -> Result<Outcome, Stopped> {
        let mut outcome = Outcome { decided: self.place(trunk), ..Outcome::default() };
        let mut trial = Trial::of(self.frame, self.node);
        self.run_all_on(&mut outcome);
        let cut = |trial: &mut Trial, outcome: &Outcome| {
            for &(at, by) in &outcome.passing_runs_on {
                trial.cut(&placing::plain(at, Role::RunOn(by)));
            }
            outcome.decided.iter().for_each(|decided| trial.cut(decided));
        };
        cut(&mut trial, &outcome);
        for number in 0..outcome.decided.len() {
            let decided = &outcome.decided[number];
            if decided.role != Role::Cope || decided.onto.len() + usize::from(decided.on_middle) < 2 {
                continue;
            }
            let needed = trial.needed(decided.at, self.stop)?;
            if !needed.is_empty() {
                outcome.decided[number].onto.retain(|target| needed.contains(target));
            }
        }
        outcome.passing_runs_on.clear();
        self.run_all_on(&mut outcome);
        self.judge(trunk, &mut outcome);
        Ok(outcome)
    }

    /// Gives what carries others the run-on that they need.
    fn run_all_on(&self, outcome: &mut Outcome) {
        let needed = |trunk: &End| {
            let carried = outcome.decided.iter().filter(|decided| decided.onto.contains(&trunk.member()));
            let branches = carried.filter_map(|decided| self.node.end(decided.at));
            branches.map(|branch| run_on(trunk, branch)).fold(0.0, f64::max)
        };
        let mut passing = Vec::new();
        for &target in &self.node.passing {
            let Target::Member(member) = target else { continue };
            let is_straight = self.frame.members[member].path.arcs.is_empty();
            for at in [(member, 0), (member, 1)].into_iter().filter(|_| is_straight) {
                let by = needed(&self.free_end(at));
                if by > 0.0 {
                    passing.push((at, by));
                }
            }
        }
        let runs: Vec<(usize, f64)> = outcome
            .decided
            .iter()
            .enumerate()
            .filter(|(_, decided)| matches!(decided.role, Role::RunOn(_)))
            .filter_map(|(number, decided)| Some((number, needed(self.node.end(decided.at)?))))
            .collect();
        for (number, by) in runs {
            outcome.decided[number].role = Role::RunOn(by);
        }
        outcome.passing_runs_on = passing;
    }

    /// An end of a tube that passes.
    fn free_end(&self, at: EndAt) -> End {
        End::of_frame(self.frame, at)
    }

    /// By how much all that is fitted passes by, mm.
    fn lack(&self, outcome: &Outcome) -> Result<f64, Stopped> {
        let mut trial = Trial::of(self.frame, self.node);
        outcome.decided.iter().for_each(|decided| trial.cut(decided));
        let coped = outcome.decided.iter().filter(|decided| decided.role == Role::Cope);
        coped.map(|decided| trial.passes_by(decided.at, self.stop)).sum()
    }
}
