//! Whether a draft is held still for review.

use super::lookup::known_draft;
use crate::{Principal, ServiceError};
use matchmark_store::drafts::SaveRow;
use matchmark_store::reviews::{self, ReviewRow};
use matchmark_store::{Conn, tokens};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// How far a draft is on its way to be published.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum DraftState {
    /// It can be written.
    Draft,
    /// It is held still for review.
    Frozen,
}

impl DraftState {
    /// The refusal of what cannot be done in this state.
    pub(crate) fn forbids(self) -> ServiceError {
        match self {
            Self::Draft => ServiceError::DraftOpen,
            Self::Frozen => ServiceError::DraftFrozen,
        }
    }

    /// The refusal of what cannot be done to the revision that the draft will be.
    pub(crate) fn forbids_revision(self, letter: &str) -> ServiceError {
        match self {
            Self::Draft => ServiceError::RevisionOpen(letter.to_owned()),
            Self::Frozen => ServiceError::RevisionFrozen(letter.to_owned()),
        }
    }
}

/// A draft with the freeze that stands.
pub(crate) struct Reviewed {
    pub draft: SaveRow,
    pub frozen: Option<ReviewRow>,
}

/// Refuses to write a draft that is held still.
pub(crate) async fn must_be_writable(conn: &mut Conn, design: &str) -> Result<(), ServiceError> {
    match standing(conn, design).await? {
        None => Ok(()),
        Some(_) => Err(DraftState::Frozen.forbids()),
    }
}

/// The freeze that stands.
pub(crate) async fn standing(conn: &mut Conn, design: &str) -> Result<Option<ReviewRow>, ServiceError> {
    Ok(reviews::last(conn, design).await?.filter(|row| row.step == "frozen"))
}

impl Reviewed {
    /// The draft of a design.
    pub async fn read(conn: &mut Conn, design: &str) -> Result<Self, ServiceError> {
        let draft = known_draft(conn, design).await?;
        Ok(Self { frozen: standing(conn, design).await?, draft })
    }

    /// How far it is.
    pub fn state(&self) -> DraftState {
        if self.frozen.is_some() { DraftState::Frozen } else { DraftState::Draft }
    }

    /// Whether `who` is a second person: neither wrote nor froze it. A token that goes back to the same
    /// one, by rotation or because one made the other, stands for the same person.
    pub async fn second(&self, conn: &mut Conn, who: &Principal) -> Result<bool, ServiceError> {
        let Some(frozen) = &self.frozen else { return Ok(false) };
        let who = tokens::person(conn, &who.token).await?;
        for other in [&frozen.token, &self.draft.saved_by] {
            if tokens::person(conn, other).await? == who {
                return Ok(false);
            }
        }
        Ok(true)
    }
}
