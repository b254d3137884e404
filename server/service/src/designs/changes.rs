//! What changed between two revisions.

use crate::{Principal, Service, ServiceError};
use matchmark_core::document::OneKit;
use matchmark_core::sheets::Changes;
use matchmark_store::revisions;
use serde::Serialize;
use utoipa::ToSchema;

/// What changed from one revision of a design to another.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ChangesView {
    /// The design.
    pub design: String,
    /// Letter of the old revision.
    pub from: String,
    /// Letter of the new revision.
    pub to: String,
    /// What was said when the new one was published.
    pub change_note: String,
    /// Parts, check dimensions and steps.
    #[serde(flatten)]
    pub changes: Changes,
}

impl Service {
    /// What changed between two revisions, in either order; the latest revision when `to` is absent.
    pub async fn changes(
        &self,
        who: &Principal,
        design: &str,
        from: &str,
        to: Option<&str>,
    ) -> Result<ChangesView, ServiceError> {
        who.may_support()?;
        let to = match to {
            Some(to) => to.to_owned(),
            None => {
                let mut read = self.store.read().await?;
                let latest = revisions::latest(&mut read, design).await?;
                latest.map_or_else(|| from.to_owned(), |latest| latest.letter)
            }
        };
        let old = self.known_sheets(design, from, OneKit::default()).await?;
        let new = self.known_sheets(design, &to, OneKit::default()).await?;
        let changes = self.engine.changes(old.evaluated(), new.evaluated()).await?;
        let changes = changes.ok_or(ServiceError::Inconsistent("this version finds errors in a published revision"))?;
        Ok(ChangesView {
            design: design.to_owned(),
            from: from.to_owned(),
            to,
            change_note: new.change_note().to_owned(),
            changes,
        })
    }
}
