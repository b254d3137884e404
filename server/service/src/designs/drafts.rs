//! The one mutable document of a design, guarded against lost updates by its entity tag.

use crate::designs::sheets::numbering;
use crate::engine::{Evaluated, Numbering, Wanted};
use crate::rules::contact::contact_text;
use crate::rules::lookup::{known_design, known_document, known_draft};
use crate::rules::review::must_be_writable;
use crate::{Principal, Service, ServiceError};
use matchmark_core::TOO_MANY_CHOICES;
use matchmark_core::document::{Finding, OneKit, Severity};
use matchmark_core::pack::{Issue, Print, Status};
use matchmark_store::audit::{self, Act};
use matchmark_store::drafts::{self, SaveRow};
use matchmark_store::hash::sha256_hex;
use matchmark_store::{Write, revisions};
use serde::Serialize;
use std::collections::BTreeSet;
use std::sync::Arc;
use utoipa::ToSchema;

/// What must hold before a draft is written or published.
#[derive(Debug, Clone, Default)]
pub struct DraftCondition {
    /// The caller's `If-Match`: hashes of the bytes one of which the draft must have now, or `*` for any draft.
    pub if_match: Option<Vec<String>>,
    /// The caller's `If-None-Match: *`: there must be no draft yet.
    pub if_absent: bool,
}

/// A draft as written.
#[derive(Debug, Clone)]
pub struct DraftView {
    /// The document, byte for byte as it was sent.
    pub body: String,
    /// SHA-256 of those bytes, which is its entity tag.
    pub sha256: String,
    /// True when this call wrote the first draft.
    pub created: bool,
}

/// What was found in a draft.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct FindingsView {
    /// The design.
    pub design: String,
    /// SHA-256 of the canonical document; absent when the draft is not JSON.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub document_sha256: Option<String>,
    /// True when everything that can differ between the choices of options was looked at; false when only the first choice of each
    /// option was.
    pub all_choices: bool,
    /// Number of errors: publishing needs none.
    pub errors: usize,
    /// Number of warnings: publishing needs their codes acknowledged.
    pub warnings: usize,
    /// All findings, errors first.
    pub findings: Vec<Finding>,
}

impl Service {
    /// The draft as written.
    pub async fn draft(&self, who: &Principal, design: &str) -> Result<DraftView, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        let row = known_draft(&mut read, design).await?;
        Ok(DraftView { body: row.body, sha256: row.sha256, created: false })
    }

    /// Writes the draft, errors and all: a draft may be work in hand.
    pub async fn put_draft(
        &self,
        who: &Principal,
        design: &str,
        body: String,
        condition: &DraftCondition,
    ) -> Result<DraftView, ServiceError> {
        who.may_publish()?;
        self.save_draft(who, design, condition, body, "").await
    }

    /// Writes a draft as one more save, unless it is the draft already.
    pub(crate) async fn save_draft(
        &self,
        who: &Principal,
        design: &str,
        condition: &DraftCondition,
        body: String,
        source: &str,
    ) -> Result<DraftView, ServiceError> {
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        known_design(&mut write, design).await?;
        let before = drafts::newest(&mut write, design).await?;
        condition.check(before.as_ref())?;
        must_be_writable(&mut write, design).await?;
        let number = before.as_ref().map_or(1, |before| before.number + 1);
        let row = SaveRow {
            number,
            sha256: sha256_hex(&body),
            body,
            saved_at: stamp.at().to_owned(),
            saved_by: who.token.clone(),
            source: source.to_owned(),
        };
        if before.as_ref().is_none_or(|before| before.sha256 != row.sha256) {
            record_save(&mut write, design, &row).await?;
            write.commit().await?;
        }
        Ok(DraftView { body: row.body, sha256: row.sha256, created: before.is_none() })
    }

    /// What is found in the draft: with the first choice of every option, or over all choices.
    pub async fn findings(
        &self,
        who: &Principal,
        design: &str,
        all_choices: bool,
    ) -> Result<FindingsView, ServiceError> {
        let draft = self.draft(who, design).await?;
        let evaluated = self.evaluated_draft(design, draft.body.clone()).await?;
        let mut findings = evaluated.evaluation.findings.clone();
        if all_choices {
            let more = self.engine.check_all_choices(draft.body).await?;
            let known: BTreeSet<_> = findings.iter().map(Finding::key).collect();
            let more: Vec<Finding> = more.iter().filter(|finding| !known.contains(&finding.key())).cloned().collect();
            findings.extend(more);
            findings.sort_by_key(|finding| finding.severity);
        }
        let count = |wanted| {
            let of_this = |finding: &&Finding| finding.severity == wanted;
            findings.iter().filter(of_this).count()
        };
        Ok(FindingsView {
            design: design.to_owned(),
            document_sha256: evaluated.evaluation.sha256.clone(),
            all_choices: !evaluated.evaluation.has_choices
                || (all_choices && findings.iter().all(|finding| finding.code != TOO_MANY_CHOICES)),
            errors: count(Severity::Error),
            warnings: count(Severity::Warning),
            findings,
        })
    }

    /// A pack of the draft, marked on every page as not for cutting.
    pub async fn preview(&self, who: &Principal, design: &str, print: Print) -> Result<Vec<u8>, ServiceError> {
        let draft = self.draft(who, design).await?;
        let evaluated = self.evaluated_draft(design, draft.body).await?;
        let evaluation = &evaluated.evaluation;
        if evaluation.sheets.is_none() {
            return Err(ServiceError::DesignHasErrors(evaluation.findings.clone()));
        }
        let contact = {
            let mut read = self.store.read().await?;
            contact_text(&mut read).await?
        };
        let issue = Issue {
            contact,
            design_sha256: evaluation.sha256.clone().unwrap_or_default(),
            ..Issue::new(&self.supplier, &evaluation.name, self.clock.stamp().date(), Status::Draft, print)
        };
        Ok(self.engine.pack(evaluated, issue).await?.pdf)
    }

    /// A draft with its part numbers after those of the latest revision.
    pub(crate) async fn evaluated_draft(&self, design: &str, document: String) -> Result<Arc<Evaluated>, ServiceError> {
        let before = {
            let mut read = self.store.read().await?;
            match revisions::latest(&mut read, design).await? {
                Some(latest) => match numbering(&latest)? {
                    Numbering::Given(numbers) => {
                        Some((known_document(&mut read, design, &latest.letter).await?, numbers))
                    }
                    Numbering::After(_) => None,
                },
                None => None,
            }
        };
        let wanted = Wanted { document, kit: OneKit::default(), numbers: Numbering::After(before) };
        self.engine.evaluate(wanted).await
    }
}

impl DraftCondition {
    /// Whether the draft that is there now is the one the caller had in mind.
    pub fn check(&self, before: Option<&SaveRow>) -> Result<(), ServiceError> {
        match (before, &self.if_match, self.if_absent) {
            (Some(row), Some(tags), _) if tags.iter().any(|tag| tag == "*" || *tag == row.sha256) => Ok(()),
            (None, Some(_), _) => Err(ServiceError::NoDraftToMatch),
            (Some(_), Some(_), _) => Err(ServiceError::DraftChanged),
            (None, None, true) => Ok(()),
            (Some(_), None, true) => Err(ServiceError::DraftExists),
            (Some(_), None, false) => Err(ServiceError::DraftTagMissing),
            (None, None, false) => Err(ServiceError::FirstDraftUnmarked),
        }
    }
}

async fn record_save(write: &mut Write, design: &str, row: &SaveRow) -> Result<(), ServiceError> {
    drafts::insert(write, design, row).await?;
    let subject = format!("designs/{design}/draft/{}", row.sha256);
    let act = Act { at: &row.saved_at, actor: &row.saved_by, action: "write-draft", subject: &subject };
    Ok(audit::append(write, act).await?)
}
