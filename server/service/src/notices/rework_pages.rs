//! The pages that a notice asks the holder of a kit to work from: those of what changed, drawn for the kit as it was when the notice
//! was raised.

use crate::rules::contact::contact_text;
use crate::rules::drawn_with::print_of;
use crate::rules::holder_news;
use crate::rules::lookup::{one_kit_facts, readable_kit};
use crate::rules::number::number as written;
use crate::rules::release::must_be_open;
use crate::rules::states::{self, RevisionState};
use crate::words::of_problems;
use crate::{Principal, Service, ServiceError};
use matchmark_core::document::{Finding, Severity};
use matchmark_core::pack::{Hands, KitFact, Print, Seal, Since};
use matchmark_store::{notices, packs};

impl Service {
    /// The pages of a notice for a kit as PDF, printed as the kit's last pack; `number` as the caller wrote it. They are no pack:
    /// nothing is issued, and the kit keeps its revision.
    pub async fn notice_pages(&self, who: &Principal, serial: &str, number: &str) -> Result<Vec<u8>, ServiceError> {
        let unknown = || ServiceError::UnknownNotice(number.to_owned());
        let wanted = written(number).ok_or_else(unknown)?;
        let (kit, notice, packs, contact, seal, measured_on) = {
            let mut read = self.store.read().await?;
            let kit = readable_kit(&mut read, who, serial).await?;
            let of_kit = notices::of_kit(&mut read, serial).await?;
            let notice = of_kit.into_iter().find(|row| row.number == wanted).ok_or_else(unknown)?;
            must_be_open(&mut read, who, &kit, &kit.revision).await?;
            if states::of_design(&mut read, &kit.design).await?.of(&notice.to_revision) == RevisionState::Recalled {
                return Err(ServiceError::NoticeStopped { number: wanted, letter: notice.to_revision });
            }
            let packs = packs::list(&mut read, serial).await?;
            let seal = self.seal(&mut read, &kit.design).await?;
            let measured_on = holder_news::measured_on(&mut read, serial).await?;
            (kit, notice, packs, contact_text(&mut read).await?, seal, measured_on)
        };
        let work =
            self.work_of(&kit.design, [&notice.from_revision, &notice.to_revision], &notice.revision, &kit.choices);
        let changes = work.await?.ok_or(ServiceError::NotDrawn {
            code: "notice-not-computed",
            message: of_problems().new_pack.notice_unknown().to_owned(),
        })?;
        let one_kit = self.one_kit(&kit).await?;
        let facts = one_kit_facts(&one_kit);
        let sheets = self.known_sheets(&kit.design, &notice.to_revision, one_kit).await?;
        let findings = &sheets.evaluated().evaluation.findings;
        let errors: Vec<Finding> =
            findings.iter().filter(|finding| finding.severity == Severity::Error).cloned().collect();
        if !errors.is_empty() {
            return Err(ServiceError::NotMeasurable(errors));
        }
        let print = Print { hands: Hands::Both, ..packs.last().map(print_of).unwrap_or_default() };
        // Of today, since they are drawn with what is measured today.
        let mut issue = sheets.issue(&self.supplier, print, self.clock.stamp().date());
        issue.seal = seal.map(|seal| Seal { notice: Some(notice.number), ..seal });
        issue.kit.clone_from(&kit.serial);
        issue.contact = contact;
        issue.kit_facts = facts;
        issue.measured_on = measured_on;
        issue.kit_facts.push(KitFact::ReworkPages {
            notice: notice.number,
            class: notice.class.clone(),
            from: notice.revision.clone(),
            to: notice.to_revision.clone(),
        });
        let before = packs.iter().rev().find(|pack| pack.revision == notice.revision);
        let pages = match before {
            Some(before) => self.pages_before(before, &packs).await?,
            None => Vec::new(),
        };
        issue.since = Some(Since {
            revision: notice.revision.clone(),
            pack_number: before.map(|pack| pack.number.to_string()).unwrap_or_default(),
            changes,
            only: true,
            pages,
        });
        // The page of notices is for packs: of one that is done it says to cross out what is drawn here.
        if notice.done_at.is_none() {
            issue.notices.push(holder_news::notice(notice, true)?);
        }
        Ok(self.engine.pack(sheets.evaluated(), issue).await?.pdf)
    }
}
