//! What a revision may be used for: its state, as all that was said of it since it was published makes it.

use super::events::EventType;
use super::letter::letter as letter_of;
use super::lookup::known_revision;
use super::review::Reviewed;
use crate::ServiceError;
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
    pub(crate) fn after(self, recorded: &str) -> Option<Self> {
        let step = Step::recorded(recorded)?;
        let next = match step {
            Step::Withdraw => Self::Withdrawn,
            Step::Recall => Self::Recalled,
            Step::Reinstate => Self::Published,
        };
        self.allows(step).then_some(next)
    }

    /// The refusal of what cannot be done in this state.
    pub fn forbids(self, letter: &str) -> ServiceError {
        let refusal = match self {
            Self::Published => ServiceError::RevisionPublished,
            Self::Superseded => ServiceError::RevisionSuperseded,
            Self::Withdrawn => ServiceError::RevisionWithdrawn,
            Self::Recalled => ServiceError::RevisionRecalled,
        };
        refusal(letter.to_owned())
    }

    /// Whether this may be done to a revision in this state.
    pub(crate) fn allows(self, step: Step) -> bool {
        match step {
            Step::Withdraw => self.takes_kits(),
            Step::Recall => self != Self::Recalled,
            Step::Reinstate => !self.takes_kits(),
        }
    }
}

/// What may be done to a published revision.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Step {
    Withdraw,
    Recall,
    Reinstate,
}

impl Step {
    /// The action as the audit log names it, and the state as it is recorded.
    pub(crate) fn names(self) -> (&'static str, &'static str) {
        match self {
            Self::Withdraw => ("withdraw-revision", "withdrawn"),
            Self::Recall => ("recall-revision", "recalled"),
            Self::Reinstate => ("reinstate-revision", "reinstated"),
        }
    }

    /// What has happened then.
    pub(crate) fn event(self) -> EventType {
        match self {
            Self::Withdraw => EventType::RevisionWithdrawn,
            Self::Recall => EventType::RevisionRecalled,
            Self::Reinstate => EventType::RevisionReinstated,
        }
    }

    /// The step that was recorded with this state.
    pub(crate) fn recorded(state: &str) -> Option<Self> {
        [Self::Withdraw, Self::Recall, Self::Reinstate].into_iter().find(|step| step.names().1 == state)
    }
}

/// The states of all revisions of a design.
#[derive(Debug)]
pub(crate) struct States {
    by_letter: BTreeMap<String, RevisionState>,
    /// All letters, the newest first.
    letters: Vec<String>,
    current: Option<String>,
    said: BTreeMap<String, LastSaid>,
}

/// What was last said of a revision after it was published, to those who hold it.
#[derive(Debug)]
pub(crate) struct LastSaid {
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
pub(crate) async fn of_design(conn: &mut Conn, design: &str) -> Result<States, ServiceError> {
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

/// Refuses to follow a revision that is not the one in force.
pub(crate) async fn must_be_in_force(conn: &mut Conn, design: &str, letter: &str) -> Result<(), ServiceError> {
    match state_of(conn, design, letter).await? {
        RevisionState::Published => Ok(()),
        state => Err(state.forbids(letter)),
    }
}

/// Refuses a revision that takes no kits.
pub(crate) async fn must_take_kits(conn: &mut Conn, design: &str, letter: &str) -> Result<(), ServiceError> {
    match of_design(conn, design).await?.of(letter) {
        RevisionState::Published | RevisionState::Superseded => Ok(()),
        RevisionState::Withdrawn => Err(ServiceError::WithdrawnTakesNoKits(letter.to_owned())),
        RevisionState::Recalled => Err(ServiceError::RecalledTakesNoKits(letter.to_owned())),
    }
}

/// The state of a revision. A draft is on its way to be the next letter, so that this one is not unknown but not published yet.
pub(crate) async fn state_of(conn: &mut Conn, design: &str, letter: &str) -> Result<RevisionState, ServiceError> {
    match known_revision(conn, design, letter).await {
        Ok(_) => Ok(of_design(conn, design).await?.of(letter)),
        Err(unknown @ ServiceError::UnknownRevision { .. }) => {
            let next = letter_of(u32::try_from(revisions::next_number(conn, design).await?).unwrap_or(u32::MAX));
            match Reviewed::read(conn, design).await {
                Ok(reviewed) if next == letter => Err(reviewed.state().forbids_revision(letter)),
                Ok(_) | Err(ServiceError::NoDraft(_)) => Err(unknown),
                Err(error) => Err(error),
            }
        }
        Err(error) => Err(error),
    }
}
