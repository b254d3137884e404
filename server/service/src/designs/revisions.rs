//! Published revisions, read by the supplier's people and by the builders who hold them.

use crate::rules::lookup::{known_design, known_document, known_revision};
use crate::rules::release::may_read;
use crate::rules::states::{self, RevisionState};
use crate::{ChangeClass, Principal, Service, ServiceError};
use matchmark_store::Conn;
use matchmark_store::revisions::{self, RevisionRow};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A published revision.
#[derive(Debug, Clone, Serialize, Deserialize, ToSchema)]
pub struct RevisionView {
    /// The design.
    pub design: String,
    /// Letter, after ASME Y14.35 practice.
    #[schema(example = "B")]
    pub letter: String,
    /// Number in order of publishing, from 1.
    pub number: i64,
    /// Whether it may be used.
    #[serde(default)]
    pub state: RevisionState,
    /// What changed and why.
    pub change_note: String,
    /// How much the change matters to those who hold an earlier revision; absent for a first issue.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class: Option<ChangeClass>,
    /// Codes of the warnings that were acknowledged.
    pub acknowledged: Vec<String>,
    /// SHA-256 of the canonical document (RFC 8785).
    pub document_sha256: String,
    /// The chain value of the revision before; empty for the first.
    pub previous_chain: String,
    /// SHA-256 over the lines `matchmark-revision/1`, previous chain, letter, document hash and date, each ended by a line feed.
    pub chain: String,
    /// When it was published, RFC 3339 in UTC.
    pub published_at: String,
}

impl RevisionView {
    fn of(row: RevisionRow, state: RevisionState) -> Result<Self, ServiceError> {
        let acknowledged = serde_json::from_str(&row.acknowledged)
            .map_err(|_| ServiceError::Inconsistent("the acknowledged codes of a revision cannot be read"))?;
        Ok(Self {
            design: row.design,
            letter: row.letter,
            number: row.number,
            state,
            change_note: row.change_note,
            class: row.class.as_deref().and_then(ChangeClass::named),
            acknowledged,
            document_sha256: row.document_sha256,
            previous_chain: row.previous_chain,
            chain: row.chain,
            published_at: row.published_at,
        })
    }
}

impl Service {
    /// All revisions of a design, oldest first.
    pub async fn revisions(&self, who: &Principal, design: &str) -> Result<Vec<RevisionView>, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        known_design(&mut read, design).await?;
        let rows = revisions::list(&mut read, design).await?;
        let states = states::of_design(&mut read, design).await?;
        rows.into_iter()
            .map(|row| {
                let state = states.of(&row.letter);
                RevisionView::of(row, state)
            })
            .collect()
    }

    /// One revision.
    pub async fn revision(&self, who: &Principal, design: &str, letter: &str) -> Result<RevisionView, ServiceError> {
        let mut read = self.store.read().await?;
        may_read(&mut read, who, design, letter).await?;
        known_view(&mut read, design, letter).await
    }

    /// The document of a revision, byte for byte as it was published.
    pub async fn document(&self, who: &Principal, design: &str, letter: &str) -> Result<String, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        known_document(&mut read, design, letter).await
    }
}

/// The revision with its state, or a refusal that names what is missing.
pub(crate) async fn known_view(conn: &mut Conn, design: &str, letter: &str) -> Result<RevisionView, ServiceError> {
    let row = known_revision(conn, design, letter).await?;
    let state = states::of_design(conn, design).await?.of(letter);
    RevisionView::of(row, state)
}
