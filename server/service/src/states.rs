//! What a revision may be used for, and how that changes after it was published. A revision itself never changes: each change
//! of state is one more record.

use super::deliveries::Told;
use super::letter::letter as letter_of;
use super::review::Reviewed;
use super::revisions::{RevisionView, known_revision, known_view};
use super::{Answered, Once, Principal, Reason, Recall, Service, ServiceError};
use matchmark_store::audit::{self, Act};
use matchmark_store::states::{self, StateRow};
use matchmark_store::{Conn, StoreError, revisions};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// What a revision may be used for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize, Serialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum RevisionState {
    /// The newest in force: kits are sold with it.
    #[default]
    Published,
    /// A newer one is in force. Its kits go on with it; sheets of the two must not be mixed.
    Superseded,
    /// No new kits; those there are go on with it.
    Withdrawn,
    /// Nobody goes on with it before having read the stop sheet.
    Recalled,
}

impl RevisionState {
    /// The word for it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::Superseded => "superseded",
            Self::Withdrawn => "withdrawn",
            Self::Recalled => "recalled",
        }
    }

    /// Whether kits may be sold with it or moved to it.
    pub fn takes_kits(self) -> bool {
        matches!(self, Self::Published | Self::Superseded)
    }

    /// The state after one more record; `None` when it cannot follow.
    pub(super) fn after(self, recorded: &str) -> Option<Self> {
        let steps =
            [(Step::Withdraw, Self::Withdrawn), (Step::Recall, Self::Recalled), (Step::Reinstate, Self::Published)];
        let (step, next) = steps.into_iter().find(|(step, _)| step.names().1 == recorded)?;
        self.allows(step).then_some(next)
    }

    /// The refusal of what cannot be done in this state.
    fn forbids(self, letter: &str) -> ServiceError {
        let possible = match self {
            Self::Published => "It can be withdrawn, recalled, or superseded by publishing a newer one.",
            Self::Superseded => "It can be withdrawn or recalled.",
            Self::Withdrawn => "It can be recalled or reinstated.",
            Self::Recalled => "It can be reinstated.",
        };
        ServiceError::StateForbids { what: format!("Revision {letter}"), state: self.name(), possible }
    }

    /// Whether this may be done to a revision in this state.
    fn allows(self, step: Step) -> bool {
        match step {
            Step::Withdraw => self.takes_kits(),
            Step::Recall => self != Self::Recalled,
            Step::Reinstate => !self.takes_kits(),
        }
    }
}

/// What may be done to a published revision.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Step {
    Withdraw,
    Recall,
    Reinstate,
}

impl Step {
    /// The action as the audit log names it, and the state as it is recorded.
    fn names(self) -> (&'static str, &'static str) {
        match self {
            Self::Withdraw => ("withdraw-revision", "withdrawn"),
            Self::Recall => ("recall-revision", "recalled"),
            Self::Reinstate => ("reinstate-revision", "reinstated"),
        }
    }
}

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
        once: &Once,
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
        once: &Once,
    ) -> Result<RevisionView, ServiceError> {
        recall.check()?;
        let said = Said { recall: Some(recall), reason: "" };
        self.step(who, design, letter, Step::Recall, said, once).await
    }

    /// Puts a withdrawn or recalled revision in force again.
    pub async fn reinstate(
        &self,
        who: &Principal,
        design: &str,
        letter: &str,
        reason: &Reason,
        once: &Once,
    ) -> Result<RevisionView, ServiceError> {
        self.step(who, design, letter, Step::Reinstate, said(reason)?, once).await
    }

    async fn step(
        &self,
        who: &Principal,
        design: &str,
        letter: &str,
        step: Step,
        said: Said<'_>,
        once: &Once,
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
        if let Some(recall) = said.recall {
            // A revision can be recalled more than once.
            let when: String = stamp.at().chars().filter(char::is_ascii_digit).collect();
            let name = format!("{design}.{letter}.{when}");
            for holder in states::ledger(&mut write, design, letter).await? {
                let told = Told {
                    event: "recall".to_owned(),
                    kit: holder.kit,
                    design: design.to_owned(),
                    revision: letter.to_owned(),
                    class: String::new(),
                    text: format!(
                        "HAZARD\n{}\n\nWHAT TO DO\n{}\n\nWHAT WE OFFER\n{}",
                        recall.hazard, recall.what_to_do, recall.remedies
                    ),
                };
                self.tell(&mut write, &name, &told, &stamp).await?;
            }
        }
        let subject = format!("designs/{design}/revisions/{letter}");
        audit::append(&mut write, Act { at: stamp.at(), actor: &who.token, action, subject: &subject }).await?;
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
struct Said<'a> {
    recall: Option<&'a Recall>,
    reason: &'a str,
}

fn said(reason: &Reason) -> Result<Said<'_>, ServiceError> {
    reason.check()?;
    Ok(Said { recall: None, reason: &reason.reason })
}

/// The states of all revisions of a design.
#[derive(Debug)]
pub(super) struct States {
    by_letter: BTreeMap<String, RevisionState>,
    /// All letters, the newest first.
    letters: Vec<String>,
    current: Option<String>,
    said: BTreeMap<String, LastSaid>,
}

/// What was last said of a revision after it was published, to those who hold it.
#[derive(Debug)]
pub(super) struct LastSaid {
    /// When.
    pub at: String,
    /// Why; empty for a recall, which has a stop sheet.
    pub reason: String,
    /// What it was until then, `withdrawn` or `recalled`; empty when it was neither.
    pub before: String,
}

impl States {
    /// The state of a revision that is there.
    pub fn of(&self, letter: &str) -> RevisionState {
        self.by_letter.get(letter).copied().unwrap_or_default()
    }

    /// Whether one revision was published before another.
    pub fn comes_before(&self, letter: &str, other: &str) -> bool {
        let place = |letter: &str| self.letters.iter().position(|known| known == letter);
        place(letter) > place(other)
    }

    /// What was last said of a revision; `None` when nothing was.
    pub fn said_of(&self, letter: &str) -> Option<&LastSaid> {
        self.said.get(letter)
    }

    /// Letter of the newest revision in force.
    pub fn current(&self) -> Option<&str> {
        self.current.as_deref()
    }
}

/// The states of all revisions of a design.
pub(super) async fn of_design(conn: &mut Conn, design: &str) -> Result<States, ServiceError> {
    let mut states = States { by_letter: BTreeMap::new(), letters: Vec::new(), current: None, said: BTreeMap::new() };
    let mut before: Option<StateRow> = None;
    for row in states::list(conn, design).await? {
        let earlier = before.filter(|before| before.letter == row.letter).map(|before| before.state);
        let said = LastSaid { at: row.at.clone(), reason: row.reason.clone(), before: earlier.unwrap_or_default() };
        states.said.insert(row.letter.clone(), said);
        before = Some(row);
    }
    for row in states::standings(conn, design).await?.into_iter().rev() {
        let state = match row.state.as_deref() {
            None | Some("reinstated") if states.current.is_none() => {
                states.current = Some(row.letter.clone());
                RevisionState::Published
            }
            None | Some("reinstated") => RevisionState::Superseded,
            Some("withdrawn") => RevisionState::Withdrawn,
            Some("recalled") => RevisionState::Recalled,
            Some(other) => {
                return Err(ServiceError::Store(StoreError::Inconsistent {
                    table: "revision_states",
                    column: "state",
                    value: other.to_owned(),
                }));
            }
        };
        states.letters.push(row.letter.clone());
        states.by_letter.insert(row.letter, state);
    }
    Ok(states)
}

/// The state of a revision. A draft is on its way to be the next letter, so that this one is not unknown but not published yet.
async fn state_of(conn: &mut Conn, design: &str, letter: &str) -> Result<RevisionState, ServiceError> {
    match known_revision(conn, design, letter).await {
        Ok(_) => Ok(of_design(conn, design).await?.of(letter)),
        Err(unknown @ ServiceError::UnknownRevision { .. }) => {
            let next = letter_of(u32::try_from(revisions::next_number(conn, design).await?).unwrap_or(u32::MAX));
            match Reviewed::read(conn, design).await {
                Ok(reviewed) if next == letter => Err(reviewed.state().forbids(&format!("Revision {letter}"))),
                Ok(_) | Err(ServiceError::NoDraft(_)) => Err(unknown),
                Err(error) => Err(error),
            }
        }
        Err(error) => Err(error),
    }
}

/// Refuses to follow a revision that is not the one in force.
pub(super) async fn must_be_in_force(conn: &mut Conn, design: &str, letter: &str) -> Result<(), ServiceError> {
    match state_of(conn, design, letter).await? {
        RevisionState::Published => Ok(()),
        state => Err(state.forbids(letter)),
    }
}

/// Refuses a revision that takes no kits.
pub(super) async fn must_take_kits(conn: &mut Conn, design: &str, letter: &str) -> Result<(), ServiceError> {
    let state = of_design(conn, design).await?.of(letter);
    if state.takes_kits() {
        Ok(())
    } else {
        Err(ServiceError::TakesNoKits { letter: letter.to_owned(), state: state.name() })
    }
}
