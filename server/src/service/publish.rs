//! Publishing: the draft becomes a revision, immutable ever after and chained to the one before.

use super::drafts::known_draft;
use super::letter::letter;
use super::revisions::RevisionView;
use super::valid::Checks;
use super::{DraftCondition, Once, Principal, Service, ServiceError};
use crate::hash::sha256_hex;
use crate::store::audit::{self, Act};
use crate::store::revisions::{self, RevisionRow};
use matchmark_core::Evaluation;
use matchmark_core::document::{Finding, Severity};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use utoipa::ToSchema;

/// How the draft is to be published.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Publish {
    /// What changed and why, for everyone who holds an earlier revision.
    #[schema(example = "Stays moved 4 mm outward at the foot.")]
    pub change_note: String,
    /// Codes of the warnings that were read and are as meant.
    #[serde(default)]
    pub acknowledge: BTreeSet<String>,
}

impl Service {
    /// Publishes the draft.
    pub async fn publish(
        &self,
        who: &Principal,
        design: &str,
        publish: Publish,
        condition: &DraftCondition,
        once: &Once,
    ) -> Result<RevisionView, ServiceError> {
        who.may_publish()?;
        let mut checks = Checks::default();
        checks.note("/change_note", &publish.change_note);
        checks.done()?;
        let draft = {
            let mut read = self.store.read().await?;
            if let Some(answer) = once.answered(&mut read).await? {
                return Ok(answer);
            }
            let draft = known_draft(&mut read, design).await?;
            condition.check(Some(&draft))?;
            draft
        };
        let evaluated = self.evaluated_draft(design, draft.body.clone()).await?;
        let found = self.findings(who, design, true).await?.findings;
        let sha256 = publishable(&evaluated.evaluation, found, &publish.acknowledge)?;
        let numbers = serde_json::to_string(&evaluated.numbers)
            .map_err(|_| ServiceError::Inconsistent("part numbers cannot be written"))?;

        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        if let Some(answer) = once.answered(&mut write).await? {
            return Ok(answer);
        }
        condition.check(Some(&known_draft(&mut write, design).await?))?;
        let latest = revisions::latest(&mut write, design).await?;
        if let Some(latest) = latest.as_ref().filter(|row| row.document_sha256 == sha256) {
            return Err(ServiceError::NothingChanged(latest.letter.clone()));
        }
        let number = latest.as_ref().map_or(1, |row| row.number + 1);
        let letter = letter(u32::try_from(number).unwrap_or(u32::MAX));
        let previous_chain = latest.map(|row| row.chain).unwrap_or_default();
        let row = RevisionRow {
            design: design.to_owned(),
            number,
            chain: link(&previous_chain, &letter, &sha256, stamp.date()),
            letter,
            change_note: publish.change_note,
            acknowledged: serde_json::json!(publish.acknowledge).to_string(),
            document_sha256: sha256,
            previous_chain,
            numbers,
            published_at: stamp.at().to_owned(),
            published_by: who.token.clone(),
        };
        revisions::insert(&mut write, &row, &draft.body).await?;
        let act = Act {
            at: stamp.at(),
            actor: &who.token,
            action: "publish-revision",
            subject: &format!("designs/{design}/revisions/{}", row.letter),
        };
        audit::append(&mut write, act).await?;
        let view = RevisionView::try_from(row)?;
        once.record(&mut write, &view, stamp.at()).await?;
        write.commit().await?;
        Ok(view)
    }
}

/// The hash of the canonical document, when nothing of what was found over all choices stands in the way of publishing it.
fn publishable(
    evaluation: &Evaluation,
    found: Vec<Finding>,
    acknowledged: &BTreeSet<String>,
) -> Result<String, ServiceError> {
    let (errors, rest): (Vec<_>, Vec<_>) = found.into_iter().partition(|finding| finding.severity == Severity::Error);
    let sha256 = match (&evaluation.sha256, &evaluation.sheets) {
        (Some(sha256), Some(_)) if errors.is_empty() => sha256.clone(),
        _ => return Err(ServiceError::DesignHasErrors(errors)),
    };
    let is_open = |finding: &Finding| finding.severity == Severity::Warning && !acknowledged.contains(&finding.code);
    let open: Vec<Finding> = rest.into_iter().filter(is_open).collect();
    if open.is_empty() { Ok(sha256) } else { Err(ServiceError::WarningsNotAcknowledged(open)) }
}

/// The hash that chains a revision to the one before: its facts, one a line under a heading that names the form.
fn link(previous: &str, letter: &str, document_sha256: &str, date: &str) -> String {
    sha256_hex(format!("matchmark-revision/1\n{previous}\n{letter}\n{document_sha256}\n{date}\n"))
}
