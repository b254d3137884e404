//! The sentences that say how a pack, its kit or one of its pages stands. They say what to do, and name no customer.

use super::facts::{Fact, Hand, Told};
use crate::words::{Words, joined, sentences};

/// What holds, in sentences.
pub(crate) fn said(words: &Words, facts: &[Fact]) -> String {
    let said: Vec<String> = facts.iter().map(|fact| sentence(words, fact)).collect();
    sentences(&said)
}

fn sentence(words: &Words, fact: &Fact) -> String {
    let (says, moved, hands) = (&words.standing, &words.moved, &words.hands);
    match fact {
        Fact::Recalled { serial, letter } => says.recalled(letter, serial),
        Fact::Unread { serial, letters } => says.unread(letters.len(), joined(&words.lists, letters), serial),
        Fact::BaseRecalled { pack, letter } => says.base_recalled(pack, letter),
        Fact::DoneThenRecalled { notice, day, letter } => says.done_then_recalled(notice, day, letter),
        Fact::Stopped { serial, notice, letter } => says.stopped(notice, serial, letter),
        Fact::DoFirst { serial, notices } => says.do_first(notices.len(), joined(&words.lists, notices), serial),
        Fact::DrawnBefore { pack } => says.drawn_before(pack),
        Fact::NotDone { revision, notices } => says.not_done(notices.len(), joined(&words.lists, notices), revision),
        Fact::Reworked { notice, day, pack, told } => {
            let done = match pack {
                None => says.reworked(notice, day),
                Some(pack) => says.reworked_beside(notice, day, pack),
            };
            match told.is_empty() {
                true => done,
                false => sentences(&[done, says.remeasured(all(words, told), notice)]),
            }
        }
        Fact::MadeBefore { notice, day, told } => says.made_before(notice, day, all(words, told)),
        Fact::Untold { serial, letters } => says.untold(letters.len(), joined(&words.lists, letters), serial),
        Fact::OnHold { serial } => on_hold(words, serial),
        Fact::Withdrawn { serial, revision, reason: None } => says.withdrawn(revision, serial),
        Fact::Withdrawn { serial, revision, reason: Some(why) } => says.withdrawn_with_reason(revision, why, serial),
        Fact::InForceAgain { revision, was_recalled: false, day, reason } => {
            says.withdrawn_before(revision, day, reason)
        }
        Fact::InForceAgain { revision, was_recalled: true, day, reason } => says.recalled_before(revision, day, reason),
        Fact::LaterRevision { newer } => says.later_revision(newer),
        Fact::NoPack { serial, revision } => says.no_pack(revision, serial),
        Fact::Current { serial, pack, day, revision, hand: None } => says.current(pack, day, revision, serial),
        Fact::Replaced { serial, pack, later } => {
            moved.replaced(later.len(), joined(&words.lists, later), serial, pack)
        }
        Fact::CameBack { pack, between, asking } if asking.is_empty() => moved.came_back(between, pack),
        Fact::CameBack { pack, between, asking } => {
            moved.came_back_asking(asking.len(), between, joined(&words.lists, asking), pack)
        }
        Fact::MovedOn { serial, revision, pack, earlier } => moved.moved_on(serial, revision, pack, earlier),
        Fact::MovedToRecalled { serial, revision } => moved.moved_to_recalled(revision, serial),
        Fact::ReadWhatStays { own, pack } => moved.read_what_stays(own, pack),
        Fact::UseInstead { own, pack } => moved.use_instead(own, pack),
        Fact::AskForNew { pack } => moved.ask_for_new(pack),
        Fact::Outdated { pack, hand, told } => outdated(words, *pack, *hand, told),
        Fact::Current { serial, pack, day, revision, hand: Some(Hand::Left) } => {
            hands.current_left(pack, day, revision, serial)
        }
        Fact::Current { serial, pack, day, revision, hand: Some(Hand::Right) } => {
            hands.current_right(pack, day, revision, serial)
        }
        Fact::OtherHandReplaced { pack, later, gone: Hand::Left } => hands.gone_left(later, pack),
        Fact::OtherHandReplaced { pack, later, gone: Hand::Right } => hands.gone_right(later, pack),
        Fact::OtherHandIn { hand, pack, is_outdated } => other_hand_in(words, *hand, *pack, *is_outdated),
        Fact::OtherHandNowhere { hand: Hand::Left } => hands.nowhere_left().to_owned(),
        Fact::OtherHandNowhere { hand: Hand::Right } => hands.nowhere_right().to_owned(),
        Fact::PageStaysInPart { stays: Hand::Left } => hands.stays_left().to_owned(),
        Fact::PageStaysInPart { stays: Hand::Right } => hands.stays_right().to_owned(),
        Fact::PageReplaced { page, pack, later } => hands.page_replaced(later, page, pack),
        Fact::Kept { page, pack, beside, revision, cross_out: None, is_right: true } => {
            moved.kept(page, pack, beside, revision)
        }
        Fact::Kept { page, pack, beside, revision, cross_out: None, is_right: false } => {
            moved.kept_after(page, pack, beside, revision)
        }
        Fact::Kept { page, pack, beside, revision, cross_out: Some(what), is_right: true } => {
            moved.kept_in_part(page, pack, beside, revision, what)
        }
        Fact::Kept { page, pack, beside, revision, cross_out: Some(what), is_right: false } => {
            moved.kept_in_part_after(page, pack, beside, revision, what)
        }
        Fact::NotKept { page, pack, beside, revision } => moved.not_kept(beside, revision, page, pack),
    }
}

/// Of a kit on hold, before all else that is said of its packs.
pub(crate) fn on_hold(words: &Words, serial: &str) -> String {
    words.standing.on_hold(serial)
}

/// Of a pack that was drawn before values were measured, or taken back.
fn outdated(words: &Words, pack: i64, hand: Option<Hand>, told: &[Told]) -> String {
    let says = &words.before;
    let all = all(words, told);
    let has_taken_back = told.iter().any(|told| told.is_taken_back);
    let drawn = if has_taken_back { says.drawn_before(all, pack) } else { says.drawn_without(all, pack) };
    let again = match hand {
        None => says.draw_again(),
        Some(Hand::Left) => says.draw_left_again(),
        Some(Hand::Right) => says.draw_right_again(),
    };
    sentences(&[drawn, again.to_owned()])
}

/// All that was told, in one clause.
fn all(words: &Words, told: &[Told]) -> String {
    let says = &words.before;
    let each = told.iter().map(|told| match told {
        Told { what, day, is_taken_back: false } => says.measured(what, day),
        Told { what, day, is_taken_back: true } => says.taken_back(what, day),
    });
    each.reduce(|told, next| says.and(told, next)).unwrap_or_default()
}

/// Of a pack of one hand: where the templates of the other are.
fn other_hand_in(words: &Words, hand: Hand, pack: i64, is_outdated: bool) -> String {
    let says = &words.hands;
    match (hand, is_outdated) {
        (Hand::Left, false) => says.beside_left(pack),
        (Hand::Left, true) => says.beside_outdated_left(pack),
        (Hand::Right, false) => says.beside_right(pack),
        (Hand::Right, true) => says.beside_outdated_right(pack),
    }
}
