//! What stands in the way of building from a pack: what is to be read, asked, done or drawn first.

use super::facts::{Fact, Hand, Told};
use super::{PackState, Standings, done_on, numbers};
use crate::rules::drawn_with::is_same;
use crate::rules::holder_news::day;
use crate::rules::states::RevisionState;
use matchmark_core::document::Gauge;
use matchmark_store::kits::KitRow;
use matchmark_store::notices::NoticeKitRow;
use matchmark_store::packs::PackRow;
use std::collections::BTreeMap;

impl Standings {
    /// What stops all work on the kit: a stop sheet that was not read, and parts of a revision that was recalled after they were made.
    pub(super) fn stops(&self) -> Vec<Fact> {
        let is_recalled = |made: &&NoticeKitRow| self.states.of(&made.to_revision) == RevisionState::Recalled;
        let (serial, letters) = (&self.kit.serial, &self.unread);
        let unread = (!letters.is_empty()).then(|| Fact::Unread { serial: serial.clone(), letters: letters.clone() });
        let done = self.reworked().map(|made| &made.notice);
        let stopped = done.filter(is_recalled).map(|notice| Fact::DoneThenRecalled {
            notice: notice.number,
            day: done_on(notice),
            letter: notice.to_revision.clone(),
        });
        unread.into_iter().chain(stopped).collect()
    }

    /// What is to be done or asked first of a pack that is the one to build from, or of a kit that has none of its revision yet; the
    /// worst first. What belongs together stands together.
    pub(super) fn in_the_way(&self, pack: Option<&PackRow>) -> Vec<(PackState, Vec<Fact>)> {
        let KitRow { serial, revision, .. } = &self.kit;
        let mut found: Vec<_> = self.stops().into_iter().map(|fact| (PackState::NoticeFirst, vec![fact])).collect();
        if let Some((pack, letter)) = pack.and_then(|pack| Some((pack, self.recalled_base(pack)?))) {
            let letter = letter.to_owned();
            found.push((PackState::NoticeFirst, vec![Fact::BaseRecalled { pack: pack.number, letter }]));
        }
        let (open, _) = self.notices_by_change();
        if !open.is_empty() {
            let shown = pack.and_then(|pack| self.kept(pack)).map(|kept| kept.notices.as_slice());
            let missing = shown.is_some_and(|shown| open.iter().any(|notice| !shown.contains(&notice.number)));
            let mut of_open = self.notice_first(&open);
            of_open.extend(pack.filter(|_| missing).map(|pack| Fact::DrawnBefore { pack: pack.number }));
            found.push((PackState::NoticeFirst, of_open));
        }
        if !self.untold.is_empty() {
            let untold = Fact::Untold { serial: serial.clone(), letters: self.untold.clone() };
            found.push((PackState::NoticeFirst, vec![untold]));
        }
        found.extend(pack.and_then(|pack| self.outdated(pack)).map(|fact| (PackState::Outdated, vec![fact])));
        if self.states.of(revision) == RevisionState::Withdrawn {
            let reason = self.states.said_of(revision).map(|said| said.reason.clone());
            let withdrawn = Fact::Withdrawn { serial: serial.clone(), revision: revision.clone(), reason };
            found.push((PackState::Withdrawn, vec![withdrawn]));
        }
        found
    }

    /// The mandatory notices that are not done: those of a change that the kit's revision does not have, and the others.
    pub(super) fn notices_by_change(&self) -> (Vec<&NoticeKitRow>, Vec<&NoticeKitRow>) {
        self.notices.iter().partition(|notice| self.states.comes_before(&self.kit.revision, &notice.to_revision))
    }

    /// Which notices are to be done before anything else; one whose revision was recalled since is to be left alone.
    fn notice_first(&self, open: &[&NoticeKitRow]) -> Vec<Fact> {
        let serial = &self.kit.serial;
        let is_recalled = |notice: &&&NoticeKitRow| self.states.of(&notice.to_revision) == RevisionState::Recalled;
        let (stopped, open): (Vec<&NoticeKitRow>, Vec<&NoticeKitRow>) = open.iter().partition(is_recalled);
        let first = (!open.is_empty()).then(|| Fact::DoFirst { serial: serial.clone(), notices: numbers(&open) });
        let stopped = stopped.into_iter().map(|notice| Fact::Stopped {
            serial: serial.clone(),
            notice: notice.number,
            letter: notice.to_revision.clone(),
        });
        first.into_iter().chain(stopped).collect()
    }

    /// What was measured since a pack was drawn and makes a difference to it.
    pub(super) fn outdated(&self, pack: &PackRow) -> Option<Fact> {
        let kept = self.kept(pack)?;
        let told = self.told_since(&kept.measured);
        let hand = Hand::of(self.hands_of(pack));
        (!told.is_empty()).then_some(Fact::Outdated { pack: pack.number, hand, told })
    }

    /// What was told of the kit since it had these measured values, and makes a difference to them.
    pub(super) fn told_since(&self, before: &BTreeMap<String, f64>) -> Vec<Told> {
        let known = self.measured.iter().filter(|(_, last)| last.taken_back.is_none());
        let now: BTreeMap<String, f64> = known.map(|(gauge, last)| (gauge.clone(), last.value)).collect();
        let told = self.differing(before, &now).into_iter().map(|gauge| {
            let last = self.measured.get(gauge);
            Told {
                what: self.gauges.get(gauge).map_or(gauge, |gauge| gauge.what.as_str()).to_owned(),
                day: last.map(|last| day(&last.at)).unwrap_or_default(),
                is_taken_back: last.is_some_and(|last| last.taken_back.is_some()),
            }
        });
        told.collect()
    }

    /// The gauges of the kit's revision in which two sets of measured values differ. Where nothing was measured, the nominal value counts.
    fn differing<'a>(&'a self, one: &BTreeMap<String, f64>, other: &BTreeMap<String, f64>) -> Vec<&'a str> {
        let value = |of: &BTreeMap<String, f64>, name: &str, gauge: &Gauge| {
            of.get(name).copied().unwrap_or_else(|| gauge.nominal.get())
        };
        let differs =
            |(name, gauge): &(&'a String, &'a Gauge)| !is_same(value(one, name, gauge), value(other, name, gauge));
        self.gauges.iter().filter(differs).map(|(name, _)| name.as_str()).collect()
    }
}
