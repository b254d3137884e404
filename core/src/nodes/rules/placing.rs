//! Rules 4 and 5: who is fitted to whom, and opposite hands on the middle plane.

use super::Rules;
use crate::frame::Target;
use crate::nodes::decided::{Decided, Role};
use crate::nodes::end::{End, EndAt, Given};
use crate::nodes::limits::{AXES_APART, EQUAL, ONE_TUBE};

impl Rules<'_> {
    /// All open ends, in the order in which they are placed: each fitted to all before it.
    pub(super) fn place(&self, trunk: &[End]) -> Vec<Decided> {
        let mut decided = Vec::new();
        let mut placed: Vec<Target> = self.node.passing.clone();
        placed.extend(self.node.ends.iter().filter(|end| end.given == Given::Standing).map(End::member));
        match trunk {
            [a, b] => {
                let mitred =
                    |end: &End, partner: &End| Decided { partner: Some(partner.at), ..plain(end.at, Role::Mitre) };
                decided.extend([mitred(a, b), mitred(b, a)]);
            }
            [one] => decided.push(plain(one.at, Role::RunOn(0.0))),
            _ => {}
        }
        placed.extend(trunk.iter().map(End::member));
        let mut others: Vec<End> = self.node.ends.to_vec();
        others.retain(|end| matches!(end.given, Given::Open | Given::Coped));
        others.retain(|end| trunk.iter().all(|trunk| trunk.at != end.at));
        others.sort_by(End::placed_before);
        while !others.is_empty() {
            let first = others.remove(0);
            if !first.is_open() {
                placed.push(first.member());
                continue;
            }
            let mut at_once = vec![first];
            if let Some(second) = self.opposite(&first) {
                others.retain(|end| end.at != second.at);
                at_once.push(second);
            }
            let is_pair = at_once.len() == 2;
            for end in &at_once {
                let partner = at_once.iter().find(|other| other.at != end.at).map(|other| other.at);
                let mut onto = self.onto(end, &placed);
                onto.retain(|target| !self.goes_on_coped(end, *target, &decided));
                decided.push(Decided { at: end.at, role: Role::Cope, partner, onto, on_middle: is_pair });
            }
            placed.extend(at_once.iter().map(End::member));
        }
        for one in &mut decided {
            // A tube alone on its own place meets nothing.
            if one.role == Role::Cope && one.onto.is_empty() && !one.on_middle {
                one.role = Role::Square;
            }
        }
        decided
    }

    /// The opposite hand that is placed with an end.
    fn opposite(&self, end: &End) -> Option<End> {
        let image = self.hands.end(end.at).filter(|image| *image != end.at && self.in_middle())?;
        self.node.end(image).copied()
    }

    /// What an end is fitted to: all that is placed, what its wall runs into beside, and nothing that is fitted to it.
    fn onto(&self, end: &End, placed: &[Target]) -> Vec<Target> {
        let beside = self.node.beside.get(&end.at).into_iter().flatten();
        let mut onto: Vec<Target> = Vec::new();
        for &target in placed.iter().chain(beside) {
            if target != end.member() && !onto.contains(&target) && !self.is_fitted_to(target, end.member()) {
                onto.push(target);
            }
        }
        onto
    }

    /// True when a target is an equal tube in an end's own line that is coped here: all that it is fitted to stands before both, so
    /// that the end comes to that first, and only grazes the rim of this one.
    fn goes_on_coped(&self, end: &End, target: Target, decided: &[Decided]) -> bool {
        let here = decided.iter().filter(|one| one.role == Role::Cope && Target::Member(one.at.0) == target);
        here.filter_map(|one| self.node.end(one.at)).any(|other| {
            let (between, apart) = end.axes(other);
            let is_equal =
                !end.is_rectangular() && !other.is_rectangular() && (end.size() - other.size()).abs() <= EQUAL;
            between >= ONE_TUBE && apart <= AXES_APART && is_equal
        })
    }

    /// True when the document fits an end of a target, at this node, to a member.
    fn is_fitted_to(&self, target: Target, member: Target) -> bool {
        let ends = self.node.ends.iter().filter(|end| end.member() == target && end.given == Given::Coped);
        ends.into_iter().any(|end| self.frame.members[end.at.0].ends[end.at.1].targets.contains(&member))
    }
}

/// A role without anything else.
pub(super) fn plain(at: EndAt, role: Role) -> Decided {
    Decided { at, role, partner: None, onto: Vec::new(), on_middle: false }
}
