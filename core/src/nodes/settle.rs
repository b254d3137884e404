//! All nodes of a frame decided, hand by hand, in an order in which they can be built.

use super::decided::{Decided, Outcome, Role};
use super::end::EndAt;
use super::find::{Node, ends, nodes};
use super::hands::Hands;
use super::order::{Edge, placed};
use super::rules::{Order, Rules};
use super::told::Told;
use crate::document::{Design, When};
use crate::frame::{Frame, Target};
use crate::{Stop, Stopped};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// Most members that a finding about a circle names.
const MOST_NAMED: usize = 8;

/// All that is decided.
pub(super) struct Settled {
    /// The nodes, and what is decided of each.
    pub(super) nodes: Vec<(Node, Outcome)>,
    /// What is decided of each open end that is not refused.
    pub(super) decided: BTreeMap<EndAt, Decided>,
    /// Positions of the document's list in its new order.
    pub(super) order: Vec<usize>,
    /// What is to be said of the order.
    pub(super) told: Vec<Told>,
}

/// Decides all open ends.
pub(super) fn settle(design: &Design, frame: &Frame, stop: Stop) -> Result<Settled, Stopped> {
    let ends = ends(design, frame);
    let hands = Hands::of(frame, &ends);
    let nodes = nodes(frame, &ends);
    stop.check()?;
    let by_end: BTreeMap<EndAt, usize> =
        nodes.iter().enumerate().flat_map(|(number, node)| node.ends.iter().map(move |end| (end.at, number))).collect();
    let images: Vec<Option<usize>> =
        (0..nodes.len()).map(|number| hands.image(frame, &nodes, &by_end, number)).collect();
    let house = House { design, frame, hands: &hands, nodes: &nodes, images: &images, stop };
    let own: Vec<usize> = (0..nodes.len()).collect();
    let mut outcomes = vec![Outcome::default(); nodes.len()];
    house.decide(&own, Order::Ties, &mut outcomes)?;
    let (order, mut told) = house.order(&mut outcomes)?;
    let decided = house.whole(&outcomes);
    told.extend(house.moved(&order, &decided));
    Ok(Settled { nodes: nodes.into_iter().zip(outcomes).collect(), decided, order, told })
}

struct House<'a> {
    design: &'a Design,
    frame: &'a Frame,
    hands: &'a Hands,
    nodes: &'a [Node],
    /// The earlier node of which each is the mirror image.
    images: &'a [Option<usize>],
    stop: Stop<'a>,
}

impl House<'_> {
    /// Decides some of the nodes; what is a mirror image follows the other hand.
    fn decide(&self, which: &[usize], order: Order, outcomes: &mut [Outcome]) -> Result<(), Stopped> {
        let first = |number: usize| self.images[number].unwrap_or(number);
        let firsts: BTreeSet<usize> = which.iter().map(|&number| first(number)).collect();
        let firsts: Vec<usize> = firsts.into_iter().collect();
        let decided: Vec<Outcome> = firsts
            .par_iter()
            .map(|&number| {
                self.stop.check()?;
                let node = &self.nodes[number];
                if let Some(told) = self.choices_meet(node) {
                    return Ok(Outcome { told: vec![told], ..Outcome::default() });
                }
                let rules = Rules { frame: self.frame, hands: self.hands, node, order, stop: self.stop };
                let mut outcome = rules.decide()?;
                outcome.told.dedup();
                Ok(outcome)
            })
            .collect::<Result<_, Stopped>>()?;
        for (number, outcome) in firsts.into_iter().zip(decided) {
            outcomes[number] = outcome;
        }
        for number in (0..self.nodes.len()).filter(|number| which.contains(&first(*number))) {
            if let Some(image) = self.images[number] {
                outcomes[number] = self.turned_over(&outcomes[image]);
            }
        }
        Ok(())
    }

    /// Members that are there under different choices have no one answer.
    fn choices_meet(&self, node: &Node) -> Option<Told> {
        let when =
            |member: usize| -> Option<&When> { self.design.members[self.frame.members[member].source].when.as_ref() };
        let ends = node.ends.iter().filter(|end| end.given != super::end::Given::Inside).map(|end| end.at.0);
        let passing = node.passing.iter().filter_map(|target| match target {
            Target::Member(member) => Some(*member),
            Target::Plate(_) => None,
        });
        let members: Vec<usize> = ends.chain(passing).collect();
        let differ = members.iter().any(|&member| when(member) != when(members[0]));
        let targets: Vec<Target> = members.iter().map(|&member| Target::Member(member)).collect();
        differ.then_some(Told::ChoicesMeet(targets))
    }

    /// The same for the other hand.
    fn turned_over(&self, outcome: &Outcome) -> Outcome {
        let end = |at: EndAt| self.hands.end(at).unwrap_or(at);
        let target = |target: Target| self.hands.target(self.frame, target).unwrap_or(target);
        let decided = outcome.decided.iter().map(|decided| Decided {
            at: end(decided.at),
            role: decided.role,
            partner: decided.partner.map(end),
            onto: decided.onto.iter().copied().map(target).collect(),
            on_middle: decided.on_middle,
        });
        let told = outcome.told.iter().map(|told| told.of(end, target));
        Outcome {
            decided: decided.collect(),
            passing_runs_on: outcome.passing_runs_on.iter().map(|&(at, by)| (end(at), by)).collect(),
            told: told.collect(),
        }
    }

    /// An order in which all can be built. Where there is a circle, its nodes are decided anew by plain build order; where that
    /// does not help they are refused.
    fn order(&self, outcomes: &mut [Outcome]) -> Result<(Vec<usize>, Vec<Told>), Stopped> {
        let mut plain: BTreeSet<usize> = BTreeSet::new();
        let mut told = Vec::new();
        // Each round decides more nodes by plain build order, or leaves more of them open.
        loop {
            let edges = self.edges(outcomes);
            let circle = match placed(self.design.members.len(), &edges.iter().map(|(edge, _)| *edge).collect()) {
                Ok(order) => return Ok((order, told)),
                Err(circle) => circle,
            };
            self.stop.check()?;
            let turns_back =
                |edge: &Edge| edge.before > edge.after && circle.contains(&edge.before) && circle.contains(&edge.after);
            let nodes: BTreeSet<usize> =
                edges.iter().filter(|(edge, _)| turns_back(edge)).filter_map(|(_, node)| *node).collect();
            let again: Vec<usize> = nodes.difference(&plain).copied().collect();
            if again.is_empty() {
                told.push(Told::InACircle(self.on(&circle)));
                // Without a decision their ends stay as the document has them.
                for node in nodes {
                    outcomes[node].decided.clear();
                }
                continue;
            }
            told.push(Told::ByBuildOrder(self.on(&circle)));
            self.decide(&again, Order::First, outcomes)?;
            plain.extend(again);
        }
    }

    /// The members of a circle, as many as can be named.
    fn on(&self, circle: &BTreeSet<usize>) -> Vec<Target> {
        let is_on = |member: &usize| circle.contains(&self.frame.members[*member].source);
        (0..self.frame.members.len()).filter(is_on).map(Target::Member).take(MOST_NAMED).collect()
    }

    /// Who must come before whom, and at which node that was decided.
    fn edges(&self, outcomes: &[Outcome]) -> BTreeSet<(Edge, Option<usize>)> {
        let mut edges = BTreeSet::new();
        for (member, placed) in self.frame.members.iter().enumerate() {
            for fit in &placed.ends {
                for target in fit.targets.iter().filter(|_| !fit.by_default) {
                    edges.extend(self.before(*target).into_iter().map(|before| (before, member, None)));
                }
            }
        }
        for (node, outcome) in outcomes.iter().enumerate().filter(|(_, outcome)| !outcome.is_refused()) {
            for decided in &outcome.decided {
                for &target in &decided.onto {
                    let before = self.before(target).into_iter();
                    edges.extend(before.map(|before| (before, decided.at.0, Some(node))));
                }
            }
        }
        let source = |member: usize| self.frame.members[member].source;
        let edges = edges.into_iter().map(|(before, after, node)| (Edge { before, after: source(after) }, node));
        edges.filter(|(edge, _)| edge.before != edge.after).collect()
    }

    /// Positions in the document's list of what must be in place for something to be fitted to it.
    fn before(&self, target: Target) -> Vec<usize> {
        let members = match target {
            Target::Member(member) => vec![member],
            Target::Plate(plate) => {
                let plate = &self.frame.plates[plate];
                plate.on.into_iter().chain(plate.before.checked_sub(1)).collect()
            }
        };
        members.into_iter().map(|member| self.frame.members[member].source).collect()
    }

    /// What is decided of all ends: that of one hand where the document gives both at once, with all that either hand is fitted to.
    fn whole(&self, outcomes: &[Outcome]) -> BTreeMap<EndAt, Decided> {
        let kept = outcomes.iter().filter(|outcome| !outcome.is_refused());
        let mut decided: BTreeMap<EndAt, Decided> = BTreeMap::new();
        for one in kept.clone().flat_map(|outcome| &outcome.decided) {
            decided.insert(one.at, one.clone());
        }
        for &(at, by) in kept.flat_map(|outcome| &outcome.passing_runs_on) {
            if let Some(end) = decided.get_mut(&at) {
                end.role = match end.role {
                    Role::Square => Role::RunOn(by),
                    Role::RunOn(own) => Role::RunOn(own.max(by)),
                    other => other,
                };
            }
        }
        decided
    }

    /// Members that come later than they were listed.
    fn moved(&self, order: &[usize], decided: &BTreeMap<EndAt, Decided>) -> Vec<Told> {
        let mut place = vec![0; order.len()];
        order.iter().enumerate().for_each(|(at, &member)| place[member] = at);
        let mut told: BTreeMap<usize, Told> = BTreeMap::new();
        for one in decided.values() {
            let own = self.frame.members[one.at.0].source;
            let later = one.onto.iter().filter(|target| match target {
                Target::Member(member) => self.frame.members[*member].source > own,
                Target::Plate(_) => false,
            });
            if let Some(&after) = later.into_iter().next() {
                let member = Target::Member(one.at.0);
                told.entry(own).or_insert(Told::OrderOfPlacing(member, after));
            }
        }
        told.into_values().collect()
    }
}

/// Ends whose two hands would be cut differently though the document gives one cut for both.
pub(super) fn hands_that_differ(frame: &Frame, decided: &BTreeMap<EndAt, Decided>) -> Vec<(EndAt, EndAt)> {
    let mut differ = Vec::new();
    for (at, one) in decided {
        let Some(opposite) = frame.members[at.0].opposite.filter(|&opposite| opposite > at.0) else { continue };
        let other = decided.get(&(opposite, at.1));
        let is_alike = other.is_some_and(|other| match (one.role, other.role) {
            (Role::RunOn(a), Role::RunOn(b)) => (a - b).abs() < 0.05,
            (a, b) => a == b,
        });
        if !is_alike {
            differ.push((*at, (opposite, at.1)));
        }
    }
    differ
}
