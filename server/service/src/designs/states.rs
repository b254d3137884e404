//! What a revision may be used for, and how that changes after it was published. A revision itself never changes: each change
//! of state is one more record.

use crate::designs::revisions::{RevisionView, known_view};
use crate::rules::events::Happened;
use crate::rules::lookup::known_revision;
use crate::rules::outbox::ToHolder;
use crate::rules::states::{RevisionState, Step, state_of};
use crate::{Answered, IdempotentCall, Principal, Reason, Recall, Service, ServiceError};
use matchmark_store::audit::{self, Act};
use matchmark_store::states::{self, StateRow};
use serde::Serialize;
use utoipa::ToSchema;

/// Who of the holders of a recalled revision has acknowledged.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RecallLedger {
    /// The design.
    pub design: String,
    /// Letter of the revision.
    pub letter: String,
    /// How many have acknowledged.
    pub acknowledged: usize,
    /// How many have not.
    pub open: usize,
    /// Every kit of the revision, and every kit that has a pack of it.
    pub kits: Vec<RecallHolder>,
}

/// One kit that a recall concerns.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RecallHolder {
    /// Serial.
    pub kit: String,
    /// When the stop sheet was acknowledged; absent while that is open.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub acknowledged_at: Option<String>,
    /// Who acknowledged it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub acknowledged_by: Option<Answered>,
}

impl Service {
    /// Withdraws a revision: no new kits.
    pub async fn withdraw(
        &self,
        who: &Principal,
        design: &str,
        letter: &str,
        reason: &Reason,
        once: &IdempotentCall,
    ) -> Result<RevisionView, ServiceError> {
        self.step(who, design, letter, Step::Withdraw, said(reason)?, once).await
    }

    /// Recalls a revision: every holder is told to stop.
    pub async fn recall(
        &self,
        who: &Principal,
        design: &str,
        letter: &str,
        recall: &Recall,
        once: &IdempotentCall,
    ) -> Result<RevisionView, ServiceError> {
        recall.check()?;
        let said = StateEvent { recall: Some(recall), reason: "" };
        self.step(who, design, letter, Step::Recall, said, once).await
    }

    /// Puts a withdrawn or recalled revision in force again.
    pub async fn reinstate(
        &self,
        who: &Principal,
        design: &str,
        letter: &str,
        reason: &Reason,
        once: &IdempotentCall,
    ) -> Result<RevisionView, ServiceError> {
        self.step(who, design, letter, Step::Reinstate, said(reason)?, once).await
    }

    async fn step(
        &self,
        who: &Principal,
        design: &str,
        letter: &str,
        step: Step,
        said: StateEvent<'_>,
        once: &IdempotentCall,
    ) -> Result<RevisionView, ServiceError> {
        who.may_publish()?;
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        if once.was_done(&mut write).await? {
            return known_view(&mut write, design, letter).await;
        }
        let state = state_of(&mut write, design, letter).await?;
        let (action, recorded) = step.names();
        if !state.allows(step) {
            return Err(state.forbids(letter));
        }
        let text = |of: fn(&Recall) -> &String| said.recall.map(of).cloned().unwrap_or_default();
        let row = StateRow {
            letter: letter.to_owned(),
            state: recorded.to_owned(),
            reason: said.reason.to_owned(),
            hazard: text(|recall| &recall.hazard),
            what_to_do: text(|recall| &recall.what_to_do),
            remedies: text(|recall| &recall.remedies),
            at: stamp.at().to_owned(),
            token: who.token.clone(),
        };
        states::insert(&mut write, design, &row).await?;
        let mut kits = None;
        if let Some(recall) = said.recall {
            // A revision can be recalled more than once.
            let when: String = stamp.at().chars().filter(char::is_ascii_digit).collect();
            let name = format!("{design}.{letter}.{when}");
            let holders = states::ledger(&mut write, design, letter).await?;
            kits = i64::try_from(holders.len()).ok();
            for holder in holders {
                let told = ToHolder {
                    event: "recall".to_owned(),
                    kit: holder.kit,
                    design: design.to_owned(),
                    revision: letter.to_owned(),
                    class: String::new(),
                    text: String::new(),
                    recall: Some(recall.clone()),
                };
                self.tell(&mut write, &name, &told, &stamp).await?;
            }
        }
        let subject = format!("designs/{design}/revisions/{letter}");
        audit::append(&mut write, Act { at: stamp.at(), actor: &who.token, action, subject: &subject }).await?;
        self.happened(&mut write, Happened::to_revision(step.event(), design, letter, kits), &stamp).await?;
        let view = known_view(&mut write, design, letter).await?;
        once.note(&mut write, stamp.at()).await?;
        write.commit().await?;
        self.delivery_news.notify_one();
        Ok(view)
    }

    /// How many kits have a revision, or a pack of it.
    pub async fn holders(&self, who: &Principal, design: &str, letter: &str) -> Result<i64, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        known_revision(&mut read, design, letter).await?;
        let rows = states::ledger(&mut read, design, letter).await?;
        Ok(i64::try_from(rows.len()).unwrap_or(i64::MAX))
    }

    /// Who of the holders of a recalled revision has acknowledged.
    pub async fn recall_ledger(
        &self,
        who: &Principal,
        design: &str,
        letter: &str,
    ) -> Result<RecallLedger, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        let view = known_view(&mut read, design, letter).await?;
        if view.state != RevisionState::Recalled {
            return Err(ServiceError::NotRecalled(letter.to_owned()));
        }
        let rows = states::ledger(&mut read, design, letter).await?;
        let acknowledged = rows.iter().filter(|row| row.acknowledged_at.is_some()).count();
        Ok(RecallLedger {
            design: view.design,
            letter: view.letter,
            acknowledged,
            open: rows.len() - acknowledged,
            kits: rows
                .into_iter()
                .map(|row| RecallHolder {
                    kit: row.kit,
                    acknowledged_at: row.acknowledged_at,
                    acknowledged_by: Answered::of(
                        who,
                        row.acknowledged_by,
                        row.acknowledged_role,
                        row.acknowledged_name,
                    ),
                })
                .collect(),
        })
    }
}

/// What is recorded with a step.
struct StateEvent<'a> {
    recall: Option<&'a Recall>,
    reason: &'a str,
}

fn said(reason: &Reason) -> Result<StateEvent<'_>, ServiceError> {
    reason.check()?;
    Ok(StateEvent { recall: None, reason: &reason.reason })
}
