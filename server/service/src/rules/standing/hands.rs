//! Packs of one hand: which of them take the place of others, and where the templates of the other hand are.

use super::Standings;
use super::facts::{Fact, Hand};
use crate::rules::drawn_with::print_of;
use matchmark_core::pack::Hands;
use matchmark_store::packs::PackRow;
use std::collections::BTreeSet;

impl Standings {
    /// What holds of a page of a whole pack that a later one of one hand replaced.
    pub fn page_replaced(&self, page: u16, pack: &PackRow, later: &PackRow) -> Vec<Fact> {
        let mut facts = vec![Fact::PageReplaced { page, pack: pack.number, later: later.number }];
        facts.extend(self.in_the_way_of(&[later.number]));
        facts
    }

    /// Numbers of the packs that take the place of one, in order: of the kit's own revision alone, so that a kit that comes back to a
    /// revision has its pack of that again. A whole pack stays beside one of the changes alone, and a pack stays until there are
    /// later ones with all the hands that it has.
    pub(super) fn in_place_of(&self, pack: &PackRow) -> Vec<i64> {
        let later: Vec<&PackRow> = self.packs().filter(|later| takes_place(later, pack)).collect();
        let newest = |hand: Hands| later.iter().filter(|later| has_hand(later, hand)).map(|later| later.number).max();
        let hands = [Hands::Left, Hands::Right].into_iter().filter(|hand| has_hand(pack, *hand));
        let found: Option<BTreeSet<i64>> = hands.map(newest).collect();
        found.unwrap_or_default().into_iter().collect()
    }

    /// What holds of the hand that a pack leaves to others: one that stays for one hand alone, or that holds one.
    pub(super) fn of_other_hand(&self, pack: &PackRow) -> Option<Fact> {
        let Some(hand) = Hand::of(print_of(pack).hands.other()) else {
            let later = self.replaced_in_part(pack)?;
            let gone = Hand::of(print_of(later).hands)?;
            return Some(Fact::OtherHandReplaced { pack: pack.number, later: later.number, gone });
        };
        Some(match self.beside_it(pack) {
            Some(beside) => {
                Fact::OtherHandIn { hand, pack: beside.number, is_outdated: self.outdated(beside).is_some() }
            }
            None => Fact::OtherHandNowhere { hand },
        })
    }

    /// The pack of one hand that took the place of what a whole one has of that hand and of neither.
    pub fn replaced_in_part(&self, pack: &PackRow) -> Option<&PackRow> {
        let is_right = pack.revision == self.kit.revision && self.in_place_of(pack).is_empty();
        self.packs().filter(|later| is_right && takes_place(later, pack)).last()
    }

    /// The hands whose templates a pack is the last to have.
    pub(super) fn hands_of(&self, pack: &PackRow) -> Hands {
        match (print_of(pack).hands, self.replaced_in_part(pack)) {
            (Hands::Both, Some(later)) => print_of(later).hands.other(),
            (hands, _) => hands,
        }
    }

    /// The pack with the templates of the hand that a pack of one hand leaves to others.
    pub(super) fn beside_it(&self, pack: &PackRow) -> Option<&PackRow> {
        other_hand_of(pack, self.packs())
    }

    /// Whether a pack has the templates of one hand, and no other pack those of the other hand as they are now.
    pub fn lacks_a_hand(&self, pack: &PackRow) -> bool {
        let other = self.of_other_hand(pack);
        matches!(other, Some(Fact::OtherHandNowhere { .. } | Fact::OtherHandIn { is_outdated: true, .. }))
    }
}

/// The last of some packs with the templates of the hand that a pack of one hand leaves to others; no other took its place.
pub(crate) fn other_hand_of<'a>(pack: &PackRow, packs: impl Iterator<Item = &'a PackRow>) -> Option<&'a PackRow> {
    let other = Some(print_of(pack).hands.other()).filter(|other| *other != Hands::Both)?;
    packs.filter(|of| of.revision == pack.revision && has_hand(of, other)).last()
}

/// Whether a pack is issued after another of its revision and not one of the changes alone beside a whole one.
fn takes_place(later: &PackRow, pack: &PackRow) -> bool {
    let is_beside = later.only_changes != 0 && pack.only_changes == 0;
    later.number > pack.number && later.revision == pack.revision && !is_beside
}

fn has_hand(pack: &PackRow, hand: Hands) -> bool {
    let hands = print_of(pack).hands;
    hands == Hands::Both || hands == hand
}

/// A pack and, where it is of one hand, before it the earlier one that has the templates of the other.
pub(crate) fn with_other_hand<'a>(pack: &'a PackRow, packs: &'a [PackRow]) -> Vec<&'a PackRow> {
    other_hand_of(pack, packs.iter().filter(|one| one.number < pack.number)).into_iter().chain([pack]).collect()
}
