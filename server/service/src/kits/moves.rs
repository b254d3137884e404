//! Kits that go to another revision: with a reason, and with their history kept.

use crate::engine::{Numbering, Wanted};
use crate::notices::late::{Alike, Late};
use crate::rules::events::{EventType, Happened};
use crate::rules::lookup::{known_document, known_kit, readable_kit};
use crate::rules::states::must_take_kits;
use crate::rules::valid::Checks;
use crate::{FieldError, IdempotentCall, Principal, Service, ServiceError};
use matchmark_core::document::{OneKit, Severity};
use matchmark_store::audit::{self, Act};
use matchmark_store::moves::{self, MoveRow};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Where a kit is to go.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({"revision": "B", "reason": "All parts replaced after the notice on the rear stays."}))]
pub struct NewMove {
    /// Letter of the revision, of the same design.
    pub revision: String,
    /// Why. It stays for good: name no person in it.
    pub reason: String,
}

/// A move of a kit.
#[derive(Debug, Clone, Serialize, Deserialize, ToSchema)]
pub struct MoveView {
    /// Number within the kit, from 1.
    pub number: i64,
    /// Letter of the revision it had.
    pub from: String,
    /// Letter of the revision it has from then on.
    pub to: String,
    /// Why.
    pub reason: String,
    /// When, RFC 3339 in UTC.
    pub at: String,
    /// Id of the token that moved it.
    pub by: String,
}

impl From<MoveRow> for MoveView {
    fn from(row: MoveRow) -> Self {
        Self {
            number: row.number,
            from: row.from_revision,
            to: row.to_revision,
            reason: row.reason,
            at: row.at,
            by: row.token,
        }
    }
}

impl Service {
    /// Moves a kit to another revision, and tells it of the notices of changes that this does not have. Its packs so far stay on record;
    /// those of other revisions are superseded.
    pub async fn move_kit(
        &self,
        who: &Principal,
        serial: &str,
        new: &NewMove,
        once: &IdempotentCall,
    ) -> Result<MoveView, ServiceError> {
        who.may_publish()?;
        let mut checks = Checks::default();
        checks.note("/reason", &new.reason);
        checks.done()?;
        let mut late = Late::default();
        let (mut write, kit, alike) = loop {
            {
                let mut read = self.store.read().await?;
                if let Some(answer) = once.answered(&mut read).await? {
                    return Ok(answer);
                }
            }
            let checked = self.check_it_can_be_built(who, serial, &new.revision).await?;
            let kit = readable_kit(&mut self.store.read().await?, who, serial).await?;
            let alike = Alike { design: kit.design, revision: new.revision.clone(), choices: kit.choices };
            let mut write = self.write_knowing(&mut late, std::slice::from_ref(&alike)).await?;
            let kit = readable_kit(&mut write, who, serial).await?;
            // Something may have been measured meanwhile.
            if once.answered::<MoveView>(&mut write).await?.is_none() && known_kit(&mut write, &kit).await? == checked {
                break (write, kit, alike);
            }
        };
        let stamp = self.clock.stamp();
        must_take_kits(&mut write, &kit.design, &new.revision).await?;
        if kit.revision == new.revision {
            return Err(ServiceError::IsThere { kit: kit.serial, letter: kit.revision });
        }
        let before = i64::try_from(moves::list(&mut write, serial).await?.len()).unwrap_or(i64::MAX - 1);
        let row = MoveRow {
            number: before + 1,
            from_revision: kit.revision,
            to_revision: new.revision.clone(),
            reason: new.reason.clone(),
            at: stamp.at().to_owned(),
            token: who.token.clone(),
        };
        moves::insert(&mut write, serial, &row).await?;
        let subject = format!("kits/{serial}/revisions/{}", row.to_revision);
        let act = Act { at: stamp.at(), actor: &who.token, action: "move-kit", subject: &subject };
        audit::append(&mut write, act).await?;
        let happened = Happened::to_kit(EventType::KitMoved, serial, &kit.design, &row.to_revision);
        let from = Some(row.from_revision.clone());
        self.happened(&mut write, happened.with(|facts| facts.from = from), &stamp).await?;
        self.tell_late(&mut write, &mut late, serial, &alike, &stamp).await?;
        let view = MoveView::from(row);
        once.record(&mut write, &view, stamp.at()).await?;
        write.commit().await?;
        self.delivery_news.notify_one();
        Ok(view)
    }

    /// How a kit came to its revision, oldest move first.
    pub async fn moves(&self, who: &Principal, serial: &str) -> Result<Vec<MoveView>, ServiceError> {
        let mut read = self.store.read().await?;
        readable_kit(&mut read, who, serial).await?;
        Ok(moves::list(&mut read, serial).await?.into_iter().map(MoveView::from).collect())
    }

    /// The choices and measured values of a kit. Refuses a revision that does not have them.
    async fn check_it_can_be_built(&self, who: &Principal, serial: &str, letter: &str) -> Result<OneKit, ServiceError> {
        let (kit, document) = {
            let mut read = self.store.read().await?;
            let kit = readable_kit(&mut read, who, serial).await?;
            let document = known_document(&mut read, &kit.design, letter).await?;
            (kit, document)
        };
        let one_kit = self.one_kit(&kit).await?;
        let wanted = Wanted { document, kit: one_kit.clone(), numbers: Numbering::After(None) };
        let evaluated = self.engine.evaluate(wanted).await?;
        let errors = evaluated.evaluation.findings.iter().filter(|finding| finding.severity == Severity::Error);
        let errors: Vec<FieldError> = errors
            .map(|finding| FieldError { pointer: "/revision".to_owned(), detail: finding.message.clone() })
            .collect();
        if errors.is_empty() { Ok(one_kit) } else { Err(ServiceError::Invalid(errors)) }
    }
}
