//! A design with all its revisions as one file: taken out, and taken in only when every hash and link of it holds.

use crate::engine::{Numbering, Wanted};
use crate::rules::events::{EventType, Happened};
use crate::rules::letter::{letter, number};
use crate::rules::lookup::known_design;
use crate::rules::publication::link;
use crate::rules::states::{RevisionState, Step};
use crate::rules::valid::Checks;
use crate::words::of_problems;
use crate::{ChangeClass, DesignView, FieldError, IdempotentCall, Principal, Service, ServiceError};
use matchmark_core::document::{Canonical, OneKit};
use matchmark_store::audit::{self, Act};
use matchmark_store::revisions::{self, RevisionRow};
use matchmark_store::states::{self, StateRow};
use matchmark_store::{checkpoints, designs, restores};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use utoipa::ToSchema;

const FORMAT: &str = "matchmark-design-file/1";

/// A design with all its revisions.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DesignFile {
    /// `matchmark-design-file/1`.
    pub format: String,
    /// Id of the design.
    pub id: String,
    /// Name of the design.
    pub name: String,
    /// All revisions, oldest first.
    pub revisions: Vec<FiledRevision>,
    /// SHA-256 of the canonical JSON (RFC 8785) of all the rest.
    pub sha256: String,
}

/// A revision in a file.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FiledRevision {
    /// Letter.
    pub letter: String,
    /// What changed and why.
    pub change_note: String,
    /// How much the change matters; absent for a first issue.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class: Option<ChangeClass>,
    /// Codes of the warnings that were acknowledged.
    pub acknowledged: BTreeSet<String>,
    /// The document, as it was written.
    pub document: String,
    /// SHA-256 of the canonical document.
    pub document_sha256: String,
    /// The chain value of the revision before; empty for the first.
    pub previous_chain: String,
    /// The chain value.
    pub chain: String,
    /// The part numbers given when it was published, as JSON; empty for a revision from before there were any.
    pub numbers: String,
    /// When it was published, RFC 3339 in UTC.
    pub published_at: String,
    /// What was said of it since, in order.
    pub states: Vec<FiledState>,
}

/// What was said of a revision.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FiledState {
    /// `withdrawn`, `recalled` or `reinstated`.
    pub state: String,
    /// Why; empty for a recall.
    #[serde(default)]
    pub reason: String,
    /// Of a recall: what can happen.
    #[serde(default)]
    pub hazard: String,
    /// Of a recall: what to do.
    #[serde(default)]
    pub what_to_do: String,
    /// Of a recall: what the supplier offers.
    #[serde(default)]
    pub remedies: String,
    /// When, RFC 3339 in UTC.
    pub at: String,
}

impl DesignFile {
    /// The hash over all the rest.
    fn hash(&self) -> Option<String> {
        let mut value = serde_json::to_value(self).ok()?;
        value.as_object_mut()?.remove("sha256");
        Canonical::of(&value).map(|canonical| canonical.sha256)
    }

    /// What in the file is not that of its content.
    fn faults(&self) -> Vec<FieldError> {
        let says = &of_problems().design_file;
        let mut faults = Faults::default();
        faults.require(self.format == FORMAT, "/format", &says.format(FORMAT));
        faults.require(!self.revisions.is_empty(), "/revisions", says.no_revisions());
        faults.require(self.hash().as_ref() == Some(&self.sha256), "/sha256", says.hash());
        let (mut chain, mut last) = (String::new(), 0);
        for (index, revision) in self.revisions.iter().enumerate() {
            let place = |field: &str| format!("/revisions/{index}/{field}");
            let expected = letter(last + 1);
            // A restore leaves letters out.
            let follows = number(&revision.letter).filter(|number| *number > last);
            let hash = serde_json::from_str(&revision.document).ok().and_then(|value| Canonical::of(&value));
            let hash = hash.map(|canonical| canonical.sha256);
            let date = revision.published_at.get(..10).unwrap_or_default();
            let made = link(&chain, &revision.letter, hash.as_deref().unwrap_or_default(), date);
            let expect = says.letter(expected);
            faults.require(follows.is_some(), &place("letter"), &expect);
            faults.require(
                hash.as_ref() == Some(&revision.document_sha256),
                &place("document_sha256"),
                says.document_hash(),
            );
            faults.require(revision.previous_chain == chain, &place("previous_chain"), says.previous_chain());
            faults.require(revision.chain == made, &place("chain"), says.chain());
            faults.require(are_steps(&revision.states), &place("states"), says.states());
            chain.clone_from(&revision.chain);
            last = follows.unwrap_or(last);
        }
        faults.0
    }
}

/// Whether a revision can have gone through these states.
fn are_steps(said: &[FiledState]) -> bool {
    let mut state = RevisionState::Published;
    said.iter().all(|said| {
        let texts = [&said.hazard, &said.what_to_do, &said.remedies];
        let fits = if said.state == "recalled" {
            texts.iter().all(|text| !text.is_empty())
        } else {
            texts.iter().all(|text| text.is_empty())
        };
        let next = state.after(&said.state);
        state = next.unwrap_or(state);
        fits && next.is_some()
    })
}

#[derive(Default)]
struct Faults(Vec<FieldError>);

impl Faults {
    fn require(&mut self, holds: bool, pointer: &str, detail: &str) {
        if !holds {
            self.0.push(FieldError { pointer: pointer.to_owned(), detail: detail.to_owned() });
        }
    }
}

impl Service {
    /// A design with all its revisions.
    pub async fn design_file(&self, who: &Principal, design: &str) -> Result<DesignFile, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        let row = known_design(&mut read, design).await?;
        let said = states::list(&mut read, design).await?;
        let mut filed = Vec::new();
        for revision in revisions::list(&mut read, design).await? {
            let document = revisions::document(&mut read, design, &revision.letter).await?.unwrap_or_default();
            let said = said.iter().filter(|row| row.letter == revision.letter).map(FiledState::of).collect();
            filed.push(FiledRevision::of(revision, document, said)?);
        }
        let mut file = DesignFile {
            format: FORMAT.to_owned(),
            id: row.id,
            name: row.name,
            revisions: filed,
            sha256: String::new(),
        };
        file.sha256 = file.hash().ok_or(ServiceError::Inconsistent("a design cannot be written as a file"))?;
        Ok(file)
    }

    /// Takes in a design that is not there yet, with all its revisions; nothing of it when anything in the file differs.
    pub async fn import_design(
        &self,
        who: &Principal,
        file: DesignFile,
        once: &IdempotentCall,
    ) -> Result<DesignView, ServiceError> {
        who.may_publish()?;
        if self.second_approver {
            return Err(ServiceError::ImportedAlone);
        }
        let mut checks = Checks::default();
        checks.design_id("/id", &file.id);
        checks.line("/name", &file.name);
        checks.done()?;
        let faults = file.faults();
        if !faults.is_empty() {
            return Err(ServiceError::FileRefused(faults));
        }
        self.must_be_made(&file).await?;
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        if once.was_done(&mut write).await? {
            return Ok(DesignView::from(known_design(&mut write, &file.id).await?));
        }
        if designs::find(&mut write, &file.id).await?.is_some() {
            return Err(ServiceError::DesignExists(file.id));
        }
        designs::insert(&mut write, &file.id, &file.name, stamp.at()).await?;
        let mut last = 0;
        for revision in &file.revisions {
            let next = number(&revision.letter).map_or(last + 1, i64::from);
            if next > last + 1 {
                restores::insert_gap(&mut write, &file.id, last + 1, next - 1).await?;
            }
            last = next;
            let row = revision.row(&file.id, last, &who.token);
            revisions::insert(&mut write, &row, &revision.document).await?;
            let happened = |kind| Happened::to_revision(kind, &file.id, &revision.letter, None);
            self.happened(&mut write, happened(EventType::RevisionPublished), &stamp).await?;
            for said in &revision.states {
                let row = said.row(&revision.letter, &who.token);
                states::insert(&mut write, &file.id, &row).await?;
                if let Some(step) = Step::recorded(&row.state) {
                    self.happened(&mut write, happened(step.event()), &stamp).await?;
                }
            }
        }
        let subject = format!("designs/{}/{}", file.id, file.sha256);
        let act = Act { at: stamp.at(), actor: &who.token, action: "import-design", subject: &subject };
        audit::append(&mut write, act).await?;
        audit::append(&mut write, Act { action: "publish-without-second-person", ..act }).await?;
        let view = DesignView::from(known_design(&mut write, &file.id).await?);
        once.note(&mut write, stamp.at()).await?;
        checkpoints::join(&mut write, stamp.at()).await?;
        write.commit().await?;
        Ok(view)
    }

    /// Refuses a file with a document that this version cannot make, or with part numbers that cannot be read.
    async fn must_be_made(&self, file: &DesignFile) -> Result<(), ServiceError> {
        let mut faults = Faults::default();
        for (index, revision) in file.revisions.iter().enumerate() {
            let numbers = if revision.numbers.is_empty() {
                Some(Numbering::After(None))
            } else {
                serde_json::from_str(&revision.numbers).ok().map(Numbering::Given)
            };
            let Some(numbers) = numbers else {
                faults.require(false, &format!("/revisions/{index}/numbers"), of_problems().design_file.numbers());
                continue;
            };
            let wanted = Wanted { document: revision.document.clone(), kit: OneKit::default(), numbers };
            let made = self.engine.evaluate(wanted).await?.evaluation.sheets.is_some();
            let place = format!("/revisions/{index}/document");
            faults.require(made, &place, of_problems().design_file.document());
        }
        if faults.0.is_empty() { Ok(()) } else { Err(ServiceError::FileRefused(faults.0)) }
    }
}

impl FiledRevision {
    fn of(row: RevisionRow, document: String, states: Vec<FiledState>) -> Result<Self, ServiceError> {
        let acknowledged = serde_json::from_str(&row.acknowledged)
            .map_err(|_| ServiceError::Inconsistent("the acknowledged codes of a revision cannot be read"))?;
        Ok(Self {
            letter: row.letter,
            change_note: row.change_note,
            class: row.class.as_deref().and_then(ChangeClass::named),
            acknowledged,
            document,
            document_sha256: row.document_sha256,
            previous_chain: row.previous_chain,
            chain: row.chain,
            numbers: row.numbers,
            published_at: row.published_at,
            states,
        })
    }

    fn row(&self, design: &str, number: i64, token: &str) -> RevisionRow {
        RevisionRow {
            design: design.to_owned(),
            number,
            letter: self.letter.clone(),
            change_note: self.change_note.clone(),
            class: self.class.map(|class| class.name().to_owned()),
            acknowledged: serde_json::json!(self.acknowledged).to_string(),
            document_sha256: self.document_sha256.clone(),
            previous_chain: self.previous_chain.clone(),
            chain: self.chain.clone(),
            numbers: self.numbers.clone(),
            published_at: self.published_at.clone(),
            published_by: token.to_owned(),
        }
    }
}

impl FiledState {
    fn of(row: &StateRow) -> Self {
        Self {
            state: row.state.clone(),
            reason: row.reason.clone(),
            hazard: row.hazard.clone(),
            what_to_do: row.what_to_do.clone(),
            remedies: row.remedies.clone(),
            at: row.at.clone(),
        }
    }

    fn row(&self, letter: &str, token: &str) -> StateRow {
        StateRow {
            letter: letter.to_owned(),
            state: self.state.clone(),
            reason: self.reason.clone(),
            hazard: self.hazard.clone(),
            what_to_do: self.what_to_do.clone(),
            remedies: self.remedies.clone(),
            at: self.at.clone(),
            token: token.to_owned(),
        }
    }
}
