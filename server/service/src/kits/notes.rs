//! Notes of the supplier's people about a kit. Builders do not see them.

use crate::rules::lookup::readable_kit;
use crate::rules::valid::Checks;
use crate::{IdempotentCall, Principal, Service, ServiceError};
use matchmark_store::audit::{self, Act};
use matchmark_store::notes::{self, NoteRow};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A note to add.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({"text": "Asked how to check the scale bars; explained by telephone."}))]
pub struct NewNote {
    /// What there is to know.
    pub text: String,
}

/// A note.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct NoteView {
    /// Number within the kit, from 1.
    pub number: i64,
    /// The text; empty once the customer was erased.
    pub text: String,
    /// When, RFC 3339 in UTC.
    pub at: String,
    /// Id of the token that wrote it.
    pub by: String,
}

impl From<NoteRow> for NoteView {
    fn from(row: NoteRow) -> Self {
        Self { number: row.number, text: row.text, at: row.at, by: row.token }
    }
}

impl Service {
    /// Adds a note to a kit and returns all of its notes.
    pub async fn add_note(
        &self,
        who: &Principal,
        serial: &str,
        new: &NewNote,
        once: &IdempotentCall,
    ) -> Result<Vec<NoteView>, ServiceError> {
        who.may_support()?;
        let mut checks = Checks::default();
        checks.note("/text", &new.text);
        checks.done()?;
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        readable_kit(&mut write, who, serial).await?;
        // Not the text: it may name people, who may be erased.
        if once.was_done(&mut write).await? {
            let rows = notes::list(&mut write, serial).await?;
            return Ok(rows.into_iter().map(NoteView::from).collect());
        }
        once.note(&mut write, stamp.at()).await?;
        notes::insert(&mut write, serial, &new.text, stamp.at(), &who.token).await?;
        let subject = format!("kits/{serial}/notes");
        let act = Act { at: stamp.at(), actor: &who.token, action: "add-note", subject: &subject };
        audit::append(&mut write, act).await?;
        let rows = notes::list(&mut write, serial).await?;
        write.commit().await?;
        Ok(rows.into_iter().map(NoteView::from).collect())
    }

    /// The notes of a kit, oldest first.
    pub async fn notes(&self, who: &Principal, serial: &str) -> Result<Vec<NoteView>, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        readable_kit(&mut read, who, serial).await?;
        Ok(notes::list(&mut read, serial).await?.into_iter().map(NoteView::from).collect())
    }
}
