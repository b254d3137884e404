//! The review of a draft: frozen, so that what is looked at is what will be published; thawed to go on with it; published by
//! somebody else than who wrote and froze it.

use crate::rules::publication::{changed_since, sound};
use crate::rules::review::{DraftState, Reviewed};
use crate::{DraftCondition, IdempotentCall, Principal, Service, ServiceError};
use matchmark_store::audit::{self, Act};
use matchmark_store::clock::Stamp;
use matchmark_store::drafts::SaveRow;
use matchmark_store::reviews::{self, ReviewRow};
use matchmark_store::{Conn, revisions, tokens};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Where a draft stands in its review.
#[derive(Debug, Clone, Serialize, Deserialize, ToSchema)]
pub struct ReviewView {
    /// The design.
    pub design: String,
    /// Whether it is held still.
    pub state: DraftState,
    /// Number of the save that is the draft.
    pub save: i64,
    /// SHA-256 of the draft as sent, its entity tag.
    pub sha256: String,
    /// Id of the token that saved it.
    pub saved_by: String,
    /// What its owner calls that token; absent when it has no name.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub saved_by_name: String,
    /// What was frozen, by whom and when; absent for one that can be written.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frozen: Option<Frozen>,
    /// Whether this service publishes only what a second person has looked at.
    pub second_approver: bool,
    /// True when the caller may not publish it, because they wrote or froze it or because it is not frozen yet.
    pub waits_for_another: bool,
}

/// How a draft was frozen.
#[derive(Debug, Clone, Serialize, Deserialize, ToSchema)]
pub struct Frozen {
    /// SHA-256 of the canonical document (RFC 8785): the hash that the revision will have.
    pub document_sha256: String,
    /// When, RFC 3339 in UTC.
    pub at: String,
    /// Id of the token.
    pub by: String,
    /// What its owner calls it; absent when it has no name.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub by_name: String,
}

/// Where a draft stands, as it is told.
async fn view(
    reviewed: Reviewed,
    conn: &mut Conn,
    design: &str,
    second_approver: bool,
    second: bool,
) -> Result<ReviewView, ServiceError> {
    let state = reviewed.state();
    let frozen = match reviewed.frozen {
        Some(row) => Some(Frozen {
            document_sha256: row.document_sha256,
            at: row.at,
            by_name: name_of(conn, &row.token).await?,
            by: row.token,
        }),
        None => None,
    };
    Ok(ReviewView {
        design: design.to_owned(),
        state,
        save: reviewed.draft.number,
        sha256: reviewed.draft.sha256,
        saved_by_name: name_of(conn, &reviewed.draft.saved_by).await?,
        saved_by: reviewed.draft.saved_by,
        frozen,
        second_approver,
        waits_for_another: second_approver && !second,
    })
}

/// What the owner of a token calls it; empty when they do not.
async fn name_of(conn: &mut Conn, token: &str) -> Result<String, ServiceError> {
    Ok(tokens::by_id(conn, token).await?.map(|row| row.name).unwrap_or_default())
}

impl Service {
    /// Publishes only what a second person has looked at, or whatever a publisher publishes.
    pub fn wanting_second_approver(self, second_approver: bool) -> Self {
        Self { second_approver, ..self }
    }

    /// Where the draft stands.
    pub async fn review(&self, who: &Principal, design: &str) -> Result<ReviewView, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        let reviewed = Reviewed::read(&mut read, design).await?;
        let second = reviewed.second(&mut read, who).await?;
        view(reviewed, &mut read, design, self.second_approver, second).await
    }

    /// Freezes a draft without errors for review.
    pub async fn freeze(
        &self,
        who: &Principal,
        design: &str,
        condition: &DraftCondition,
        once: &IdempotentCall,
    ) -> Result<ReviewView, ServiceError> {
        who.may_publish()?;
        let draft = {
            let mut read = self.store.read().await?;
            if once.was_done(&mut read).await? {
                drop(read);
                return self.review(who, design).await;
            }
            self.freezable(&mut read, design, condition).await?.draft
        };
        let evaluated = self.evaluated_draft(design, draft.body).await?;
        let found = self.findings(who, design, true).await?.findings;
        let (sha256, _) = sound(&evaluated.evaluation, found)?;

        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        if once.was_done(&mut write).await? {
            drop(write);
            return self.review(who, design).await;
        }
        let mut reviewed = self.freezable(&mut write, design, condition).await?;
        changed_since(revisions::latest(&mut write, design).await?.as_ref(), &sha256)?;
        let row = step("frozen", &reviewed.draft, &sha256, &stamp, who);
        self.record_step(&mut write, design, &row, "freeze-draft").await?;
        reviewed.frozen = Some(row);
        let view = view(reviewed, &mut write, design, self.second_approver, false).await?;
        once.note(&mut write, stamp.at()).await?;
        write.commit().await?;
        Ok(view)
    }

    /// Lets a frozen draft be written again.
    pub async fn thaw(&self, who: &Principal, design: &str, once: &IdempotentCall) -> Result<ReviewView, ServiceError> {
        who.may_publish()?;
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        if once.was_done(&mut write).await? {
            drop(write);
            return self.review(who, design).await;
        }
        let mut reviewed = Reviewed::read(&mut write, design).await?;
        let Some(frozen) = reviewed.frozen.take() else {
            return Err(DraftState::Draft.forbids());
        };
        let row = step("thawed", &reviewed.draft, &frozen.document_sha256, &stamp, who);
        self.record_step(&mut write, design, &row, "thaw-draft").await?;
        let view = view(reviewed, &mut write, design, self.second_approver, false).await?;
        once.note(&mut write, stamp.at()).await?;
        write.commit().await?;
        Ok(view)
    }

    async fn freezable(
        &self,
        conn: &mut Conn,
        design: &str,
        condition: &DraftCondition,
    ) -> Result<Reviewed, ServiceError> {
        let reviewed = Reviewed::read(conn, design).await?;
        condition.check(Some(&reviewed.draft))?;
        match reviewed.state() {
            DraftState::Draft => Ok(reviewed),
            frozen => Err(frozen.forbids()),
        }
    }

    /// Whether a second person stands behind what `who` publishes; refused when one must and does not.
    pub(crate) async fn approved(
        &self,
        conn: &mut Conn,
        who: &Principal,
        reviewed: &Reviewed,
    ) -> Result<bool, ServiceError> {
        let second = reviewed.second(conn, who).await?;
        match reviewed.state() {
            _ if second || !self.second_approver => Ok(second),
            DraftState::Draft => Err(ServiceError::FreezeFirst),
            DraftState::Frozen => Err(ServiceError::SecondPerson),
        }
    }

    /// Ends a freeze because its draft was published.
    pub(crate) async fn end_review(
        &self,
        conn: &mut Conn,
        who: &Principal,
        reviewed: &Reviewed,
        design: &str,
        stamp: &Stamp,
    ) -> Result<(), ServiceError> {
        if let Some(frozen) = &reviewed.frozen {
            let row = step("published", &reviewed.draft, &frozen.document_sha256, stamp, who);
            reviews::insert(conn, design, &row).await?;
        }
        Ok(())
    }

    async fn record_step(
        &self,
        conn: &mut Conn,
        design: &str,
        row: &ReviewRow,
        action: &str,
    ) -> Result<(), ServiceError> {
        reviews::insert(conn, design, row).await?;
        let subject = format!("designs/{design}/draft/{}", row.document_sha256);
        Ok(audit::append(conn, Act { at: &row.at, actor: &row.token, action, subject: &subject }).await?)
    }
}

fn step(step: &str, draft: &SaveRow, document_sha256: &str, stamp: &Stamp, who: &Principal) -> ReviewRow {
    ReviewRow {
        step: step.to_owned(),
        save: draft.number,
        document_sha256: document_sha256.to_owned(),
        at: stamp.at().to_owned(),
        token: who.token.clone(),
    }
}
