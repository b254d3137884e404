//! The pages that a notice asks the holder of a kit to work from: those of what changed, worked out for the kit as measured, from the
//! revision that it had when the notice was raised.

use crate::designs::sheets::RevisionSheets;
use crate::notices::raising::within;
use crate::rules::contact::contact_text;
use crate::rules::drawn_with::print_of;
use crate::rules::holder_news;
use crate::rules::lookup::{known_document, one_kit_facts, readable_kit};
use crate::rules::made_already::made_already;
use crate::rules::measured_set::measured_set;
use crate::rules::number::number as written;
use crate::rules::release::must_be_open;
use crate::rules::standing::hands::with_other_hand;
use crate::rules::states::{self, RevisionState};
use crate::words::of_problems;
use crate::{ChangeClass, Principal, Service, ServiceError};
use matchmark_core::document::{Finding, OneKit, Severity};
use matchmark_core::pack::{DoneBy, Hands, KitFact, Notice, NoticePages, Print, Since};
use matchmark_core::sheets::{ChangeKind, Changes, PartChange};
use matchmark_store::measurements;
use matchmark_store::notices::{self, NoticeKitRow};
use matchmark_store::packs::{self, PackRow};

impl Service {
    /// The pages of a notice for a kit as PDF, printed as the kit's last pack; `number` as the caller wrote it. They are no pack:
    /// nothing is issued, and the kit keeps its revision.
    pub async fn notice_pages(&self, who: &Principal, serial: &str, number: &str) -> Result<Vec<u8>, ServiceError> {
        let unknown = || ServiceError::UnknownNotice(number.to_owned());
        let wanted = written(number).ok_or_else(unknown)?;
        let (kit, notice, packs, contact, seal, measured_on, told, made_already) = {
            let mut read = self.store.read().await?;
            let kit = readable_kit(&mut read, who, serial).await?;
            let of_kit = notices::of_kit(&mut read, serial).await?;
            let notice = of_kit.iter().find(|row| row.number == wanted).cloned().ok_or_else(unknown)?;
            must_be_open(&mut read, who, &kit, &kit.revision).await?;
            let states = states::of_design(&mut read, &kit.design).await?;
            let made_already = made_already(&states, &of_kit, &notice);
            if states.of(&notice.to_revision) == RevisionState::Recalled {
                return Err(ServiceError::NoticeStopped { number: wanted, letter: notice.to_revision });
            }
            let packs = packs::list(&mut read, serial).await?;
            let seal = self.seal(&mut read, &kit.design).await?;
            let measured_on = holder_news::measured_on(&mut read, serial).await?;
            let rows = measurements::list(&mut read, serial).await?;
            let told = (measured_set(&rows), holder_news::is_remeasured(&rows, &notice));
            (kit, notice, packs, contact_text(&mut read).await?, seal, measured_on, told, made_already)
        };
        let not_computed = || ServiceError::NotDrawn {
            code: "notice-not-computed",
            message: of_problems().new_pack.notice_unknown().to_owned(),
        };
        let change = [notice.from_revision.as_str(), notice.to_revision.as_str()];
        if self.work_of(&kit.design, change, &notice.revision, &kit.choices).await?.is_none() {
            return Err(not_computed());
        }
        let one_kit = self.one_kit(&kit).await?;
        let facts = one_kit_facts(&one_kit);
        let sheets = self.known_sheets(&kit.design, &notice.to_revision, one_kit.clone()).await?;
        let findings = &sheets.evaluated().evaluation.findings;
        let errors: Vec<Finding> =
            findings.iter().filter(|finding| finding.severity == Severity::Error).cloned().collect();
        if !errors.is_empty() {
            return Err(ServiceError::NotMeasurable(errors));
        }
        let before = packs.iter().rev().find(|pack| pack.revision == notice.revision);
        let made_from = before.map(|before| with_other_hand(before, &packs)).unwrap_or_default();
        let changes =
            self.measured_work(&notice, &made_from, one_kit.clone(), &sheets).await?.ok_or_else(not_computed)?;
        let stale = self.stale(&notice, &made_from, one_kit.clone(), &changes).await?;
        let print = Print { hands: Hands::Both, ..packs.last().map(print_of).unwrap_or_default() };
        // Of today, since they are drawn with what is measured today.
        let mut issue = sheets.issue(&self.supplier, print, self.clock.stamp().date());
        issue.seal = seal;
        let (told, is_remeasured) = told;
        issue.notice_pages =
            Some(NoticePages { notice: notice.number, beside: before.map_or(0, |pack| pack.number), told });
        issue.kit.clone_from(&kit.serial);
        issue.contact = contact;
        issue.kit_facts = facts;
        issue.measured_on = measured_on;
        issue.kit_facts.push(KitFact::ReworkPages {
            notice: notice.number,
            class: ChangeClass::of_notice(&notice.class)?.printed(),
            from: notice.revision.clone(),
            to: notice.to_revision.clone(),
        });
        // Of a kit that has another revision now, its later packs say what stays valid of those before.
        let pages = match before.filter(|_| kit.revision == notice.revision) {
            Some(before) => self.pages_before(before, &packs).await?,
            None => Vec::new(),
        };
        issue.since = Some(Since {
            revision: notice.revision.clone(),
            pack_number: before.map(|pack| pack.number.to_string()).unwrap_or_default(),
            changes: changes.clone(),
            only: true,
            pages,
            stale,
            moved_to: Some(kit.revision.clone()).filter(|revision| *revision != notice.revision),
        });
        // The page of notices is for packs: of one that is done it says to cross out what is drawn here.
        match &notice.done_at {
            None => {
                issue.notices.push(Notice { work: Some(changes), made_already, ..holder_news::notice(notice, true)? })
            }
            Some(at) => issue.kit_facts.push(KitFact::NoticeDone {
                notice: notice.number,
                day: holder_news::day(at),
                by: notice.done_role.as_deref().map(done_by),
                is_remeasured,
            }),
        }
        Ok(self.engine.pack(sheets.evaluated(), issue).await?.pdf)
    }

    /// What is to be done to a kit about the change of a notice: to the parts as its pack had them, so that they are as measured now;
    /// `None` when that could not be told.
    async fn measured_work(
        &self,
        notice: &NoticeKitRow,
        packs: &[&PackRow],
        kit: OneKit,
        new: &RevisionSheets,
    ) -> Result<Option<Changes>, ServiceError> {
        let Some(change) = self.changes_to(new, notice, &notice.from_revision, kit.clone()).await? else {
            return Ok(None);
        };
        let Some((last, others)) = packs.split_last() else {
            let whole = self.changes_to(new, notice, &notice.revision, kit).await?;
            return Ok(whole.map(|whole| within(&whole, &change)));
        };
        let made = self.kit_at(last, kit.clone()).await?;
        let mut whole = self.changes_to(new, notice, &notice.revision, made).await?;
        for other in others {
            let made = self.kit_at(other, kit.clone()).await?;
            let of_other = self.changes_to(new, notice, &notice.revision, made).await?;
            let hand = print_of(last).hands.other();
            whole = whole.zip(of_other).map(|(whole, of_other)| by_hand(whole, of_other, hand));
        }
        Ok(whole.map(|whole| within(&whole, &change)))
    }

    /// What of each pack that parts were made from is out of date by values told since, beside the work of a notice.
    async fn stale(
        &self,
        notice: &NoticeKitRow,
        packs: &[&PackRow],
        kit: OneKit,
        work: &Changes,
    ) -> Result<Vec<(String, Changes)>, ServiceError> {
        let known = self.with_gauges_of(&notice.design, &notice.revision, kit.clone()).await?;
        let now = self.known_sheets(&notice.design, &notice.revision, known).await?;
        let is_in_work = |member: &str| work.parts.iter().any(|part| part.member == member);
        let mut of_packs = Vec::new();
        for pack in packs {
            let made = self.kit_at(pack, kit.clone()).await?;
            let mut stale = self.changes_to(&now, notice, &notice.revision, made).await?.unwrap_or_default();
            stale.parts.retain(|part| part.kind != ChangeKind::Unchanged && !is_in_work(&part.member));
            stale.checks.retain(|check| work.checks.iter().all(|known| known.name != check.name));
            of_packs.push((pack.number.to_string(), stale));
        }
        Ok(of_packs)
    }

    /// A kit without the values that a revision has no gauge for.
    async fn with_gauges_of(&self, design: &str, letter: &str, mut kit: OneKit) -> Result<OneKit, ServiceError> {
        let document = known_document(&mut self.store.read().await?, design, letter).await?;
        let gauges = matchmark_core::document::read(&document).design.and_then(|design| design.gauges);
        kit.measured.retain(|gauge, _| gauges.as_ref().is_some_and(|gauges| gauges.contains_key(gauge)));
        Ok(kit)
    }

    /// What changed from an earlier revision for a kit, without the values that this one has no gauge for.
    async fn changes_to(
        &self,
        new: &RevisionSheets,
        notice: &NoticeKitRow,
        letter: &str,
        kit: OneKit,
    ) -> Result<Option<Changes>, ServiceError> {
        let kit = self.with_gauges_of(&notice.design, letter, kit).await?;
        let old = self.known_sheets(&notice.design, letter, kit).await?;
        self.engine.changes(old.evaluated(), new.evaluated()).await
    }
}

/// A list of what changed that for the parts of one hand alone says what another one does, since those were made from another pack.
fn by_hand(mut whole: Changes, of_other: Changes, hand: Hands) -> Changes {
    let is_of_hand = |part: &PartChange| hand.shows(&part.member) && !hand.other().shows(&part.member);
    whole.parts.retain(|part| !is_of_hand(part));
    whole.parts.extend(of_other.parts.into_iter().filter(is_of_hand));
    whole
}

/// Who reported work as done, by the role of their token.
fn done_by(role: &str) -> DoneBy {
    if role == "builder" { DoneBy::Holder } else { DoneBy::Supplier }
}
