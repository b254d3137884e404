//! Publishing: the draft becomes a revision, immutable ever after and chained to the one before.

use crate::designs::figures::record as record_figures;
use crate::designs::revisions::{RevisionView, known_view};
use crate::rules::events::{EventType, Happened};
use crate::rules::letter::letter;
use crate::rules::publication::{ChangeClass, changed_since, link, sound};
use crate::rules::review::Reviewed;
use crate::rules::states;
use crate::rules::valid::Checks;
use crate::words::of_problems;
use crate::{DraftCondition, FieldError, IdempotentCall, Principal, Service, ServiceError};
use matchmark_core::Evaluation;
use matchmark_core::document::{Finding, Severity};
use matchmark_store::audit::{self, Act};
use matchmark_store::checkpoints;
use matchmark_store::revisions::{self, RevisionRow};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use utoipa::ToSchema;

/// How the draft is to be published.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({"change_note": "Stays moved 4 mm outward at the foot.", "class": "recommended", "acknowledge": []}))]
pub struct Publish {
    /// What changed and why, for everyone who holds an earlier revision.
    pub change_note: String,
    /// How much the change matters to those who hold an earlier revision; only a first issue goes without.
    #[serde(default)]
    pub class: Option<ChangeClass>,
    /// Codes of the warnings that were read and are as meant.
    #[serde(default)]
    pub acknowledge: BTreeSet<String>,
    /// Letter of the revision in force that this one follows; refused when another is in force by now. Not looked at when absent.
    #[serde(default)]
    pub supersedes: Option<String>,
}

/// What is recorded of a publication.
#[derive(Debug, Deserialize, Serialize)]
struct Published {
    letter: String,
}

impl Service {
    /// Publishes the draft.
    pub async fn publish(
        &self,
        who: &Principal,
        design: &str,
        publish: Publish,
        condition: &DraftCondition,
        once: &IdempotentCall,
    ) -> Result<RevisionView, ServiceError> {
        who.may_publish()?;
        let mut checks = Checks::default();
        checks.note("/change_note", &publish.change_note);
        checks.done()?;
        let draft = {
            let mut read = self.store.read().await?;
            if let Some(Published { letter }) = once.answered(&mut read).await? {
                return known_view(&mut read, design, &letter).await;
            }
            let reviewed = Reviewed::read(&mut read, design).await?;
            condition.check(Some(&reviewed.draft))?;
            self.approved(&mut read, who, &reviewed).await?;
            reviewed.draft
        };
        let evaluated = self.evaluated_draft(design, draft.body.clone()).await?;
        let found = self.findings(who, design, true).await?.findings;
        let sha256 = publishable(&evaluated.evaluation, found, &publish.acknowledge)?;
        let numbers = serde_json::to_string(&evaluated.numbers)
            .map_err(|_| ServiceError::Inconsistent("part numbers cannot be written"))?;

        let figures = self.figures_to_record(&draft.body).await?;

        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        if let Some(Published { letter }) = once.answered(&mut write).await? {
            return known_view(&mut write, design, &letter).await;
        }
        let reviewed = Reviewed::read(&mut write, design).await?;
        condition.check(Some(&reviewed.draft))?;
        let by_two = self.approved(&mut write, who, &reviewed).await?;
        if let Some(letter) = &publish.supersedes {
            states::must_be_in_force(&mut write, design, letter).await?;
        }
        let latest = revisions::latest(&mut write, design).await?;
        changed_since(latest.as_ref(), &sha256)?;
        if latest.is_some() && publish.class.is_none() {
            return Err(ServiceError::Invalid(vec![FieldError {
                pointer: "/class".to_owned(),
                detail: of_problems().fields.change_class().to_owned(),
            }]));
        }
        let number = revisions::next_number(&mut write, design).await?;
        let letter = letter(u32::try_from(number).unwrap_or(u32::MAX));
        let previous_chain = latest.map(|row| row.chain).unwrap_or_default();
        let row = RevisionRow {
            design: design.to_owned(),
            number,
            chain: link(&previous_chain, &letter, &sha256, stamp.date()),
            letter,
            change_note: publish.change_note,
            class: publish.class.map(|class| class.name().to_owned()),
            acknowledged: serde_json::json!(publish.acknowledge).to_string(),
            document_sha256: sha256,
            previous_chain,
            numbers,
            published_at: stamp.at().to_owned(),
            published_by: who.token.clone(),
        };
        revisions::insert(&mut write, &row, &draft.body).await?;
        let subject = format!("designs/{design}/revisions/{}", row.letter);
        let act = Act { at: stamp.at(), actor: &who.token, action: "publish-revision", subject: &subject };
        audit::append(&mut write, act).await?;
        if !by_two {
            audit::append(&mut write, Act { action: "publish-without-second-person", ..act }).await?;
        }
        let class = publish.class;
        let happened = Happened::to_revision(EventType::RevisionPublished, design, &row.letter, None);
        self.happened(&mut write, happened.with(|facts| facts.class = class), &stamp).await?;
        for (choices, figures) in &figures {
            record_figures(&mut write, (design, &row.letter), choices, figures, stamp.at(), &who.token).await?;
        }
        self.end_review(&mut write, who, &reviewed, design, &stamp).await?;
        let view = known_view(&mut write, design, &row.letter).await?;
        once.record(&mut write, &Published { letter: view.letter.clone() }, stamp.at()).await?;
        checkpoints::join(&mut write, stamp.at()).await?;
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
    let (sha256, rest) = sound(evaluation, found)?;
    let is_open = |finding: &Finding| finding.severity == Severity::Warning && !acknowledged.contains(&finding.code);
    let open: Vec<Finding> = rest.into_iter().filter(is_open).collect();
    if open.is_empty() { Ok(sha256) } else { Err(ServiceError::WarningsNotAcknowledged(open)) }
}
