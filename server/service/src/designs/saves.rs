//! Earlier saves of a draft: looked at, restored, compared.

use crate::rules::lookup::{known_design, known_document, known_draft};
use crate::rules::number::number as written;
use crate::words::of_problems;
use crate::{ChangesView, DraftCondition, DraftView, FieldError, Listed, Page, Principal, Service, ServiceError};
use matchmark_core::document::OneKit;
use matchmark_store::drafts::{self, SaveFacts};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A save of a draft.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SaveView {
    /// Number in order of saving, from 1.
    pub number: i64,
    /// SHA-256 of the document as sent.
    pub sha256: String,
    /// When it was saved, RFC 3339 in UTC.
    pub saved_at: String,
    /// Id of the token that saved it.
    pub saved_by: String,
    /// What was restored: `save 3` or `revision B`; absent for one that was sent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub restored: Option<String>,
}

impl From<SaveFacts> for SaveView {
    fn from(row: SaveFacts) -> Self {
        Self {
            number: row.number,
            sha256: row.sha256,
            saved_at: row.saved_at,
            saved_by: row.saved_by,
            restored: Some(row.source).filter(|source| !source.is_empty()),
        }
    }
}

/// What to make the draft: one of the two.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({"revision": "B"}))]
pub struct Restore {
    /// An earlier save, by its number.
    #[serde(default)]
    pub save: Option<i64>,
    /// A published revision, by its letter: the next revision then starts from it.
    #[serde(default)]
    pub revision: Option<String>,
}

impl Service {
    /// A page of the saves of a draft, newest first.
    pub async fn saves(&self, who: &Principal, design: &str, page: &Page) -> Result<Listed<SaveView>, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        known_design(&mut read, design).await?;
        let before = page.after.parse().unwrap_or(i64::MAX);
        let limit = i64::try_from(page.limit + 1).unwrap_or(i64::MAX);
        let rows = drafts::list(&mut read, design, before, limit).await?;
        let views = rows.into_iter().map(SaveView::from).collect();
        Ok(Listed::cut(views, page.limit, |view: &SaveView| view.number.to_string()))
    }

    /// The document of a save, as sent; `number` as the caller wrote it.
    pub async fn saved(&self, who: &Principal, design: &str, number: &str) -> Result<DraftView, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        known_design(&mut read, design).await?;
        let unknown = || ServiceError::UnknownSave(number.to_owned());
        let wanted = written(number).ok_or_else(unknown)?;
        let row = drafts::find(&mut read, design, wanted).await?.ok_or_else(unknown)?;
        Ok(DraftView { body: row.body, sha256: row.sha256, created: false })
    }

    /// Makes an earlier save or a published revision the draft again, as one more save.
    pub async fn restore(
        &self,
        who: &Principal,
        design: &str,
        restore: &Restore,
        condition: &DraftCondition,
    ) -> Result<DraftView, ServiceError> {
        who.may_publish()?;
        let (body, source) = match (restore.save, &restore.revision) {
            (Some(number), None) => {
                let saved = self.saved(who, design, &number.to_string()).await?;
                (saved.body, format!("save {number}"))
            }
            (None, Some(letter)) => {
                let mut read = self.store.read().await?;
                (known_document(&mut read, design, letter).await?, format!("revision {letter}"))
            }
            _ => {
                return Err(ServiceError::Invalid(vec![FieldError {
                    pointer: String::new(),
                    detail: of_problems().fields.save_or_revision().to_owned(),
                }]));
            }
        };
        self.save_draft(who, design, condition, body, &source).await
    }

    /// What changed from a revision, the latest when no letter is given, to the draft.
    pub async fn draft_changes(
        &self,
        who: &Principal,
        design: &str,
        from: Option<&str>,
    ) -> Result<ChangesView, ServiceError> {
        who.may_support()?;
        let (draft, latest) = {
            let mut read = self.store.read().await?;
            let draft = known_draft(&mut read, design).await?;
            let latest = matchmark_store::revisions::latest(&mut read, design).await?;
            (draft, latest.map(|latest| latest.letter))
        };
        let from = match (from, &latest) {
            (Some(from), _) => from.to_owned(),
            (None, Some(latest)) => latest.clone(),
            (None, None) => {
                return Err(ServiceError::UnknownRevision { design: design.to_owned(), letter: "A".to_owned() });
            }
        };
        let old = self.known_sheets(design, &from, OneKit::default()).await?;
        let new = self.evaluated_draft(design, draft.body).await?;
        let changes = self.engine.changes(old.evaluated(), std::sync::Arc::clone(&new)).await?;
        let changes = changes.ok_or_else(|| ServiceError::DesignHasErrors(new.evaluation.findings.clone()))?;
        Ok(ChangesView { design: design.to_owned(), from, to: "draft".to_owned(), change_note: String::new(), changes })
    }
}
