//! Designs: created by a publisher, seen by the supplier's people.

use crate::rules::lookup::known_design;
use crate::rules::valid::Checks;
use crate::{IdempotentCall, Listed, Page, Principal, Service, ServiceError};
use matchmark_store::StoreError;
use matchmark_store::audit::{self, Act};
use matchmark_store::designs::{self, DesignRow};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A design to create.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct NewDesign {
    /// Id for addresses and file names: lower-case letters, digits and hyphens.
    #[schema(example = "fenrunner-two")]
    pub id: String,
    /// Name as people say it.
    #[schema(example = "Fenrunner Two")]
    pub name: String,
}

/// A design.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
pub struct DesignView {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// When it was created, RFC 3339.
    pub created_at: String,
    /// Letter of the newest revision; absent while nothing is published.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub latest_revision: Option<String>,
}

impl From<DesignRow> for DesignView {
    fn from(row: DesignRow) -> Self {
        Self { id: row.id, name: row.name, created_at: row.created_at, latest_revision: row.latest }
    }
}

impl Service {
    /// Creates a design.
    pub async fn create_design(
        &self,
        who: &Principal,
        new: NewDesign,
        once: &IdempotentCall,
    ) -> Result<DesignView, ServiceError> {
        who.may_publish()?;
        let mut checks = Checks::default();
        checks.design_id("/id", &new.id);
        checks.line("/name", &new.name);
        checks.done()?;
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        if once.was_done(&mut write).await? {
            return Ok(known_design(&mut write, &new.id).await?.into());
        }
        match designs::insert(&mut write, &new.id, &new.name, stamp.at()).await {
            Err(StoreError::Duplicate) => return Err(ServiceError::DesignExists(new.id)),
            done => done?,
        }
        let act =
            Act { at: stamp.at(), actor: &who.token, action: "create-design", subject: &format!("designs/{}", new.id) };
        audit::append(&mut write, act).await?;
        once.note(&mut write, stamp.at()).await?;
        write.commit().await?;
        Ok(DesignView { id: new.id, name: new.name, created_at: stamp.at().to_owned(), latest_revision: None })
    }

    /// A page of all designs, in order of their id.
    pub async fn designs(&self, who: &Principal, page: &Page) -> Result<Listed<DesignView>, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        let limit = i64::try_from(page.limit + 1).unwrap_or(i64::MAX);
        let rows = designs::list(&mut read, &page.after, limit).await?;
        let views = rows.into_iter().map(DesignView::from).collect();
        Ok(Listed::cut(views, page.limit, |view: &DesignView| view.id.clone()))
    }

    /// One design.
    pub async fn design(&self, who: &Principal, id: &str) -> Result<DesignView, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        Ok(known_design(&mut read, id).await?.into())
    }
}
