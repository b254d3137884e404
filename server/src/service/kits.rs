//! Kits: one sold flat pack each, tied for life to the revision it was shipped with.

use super::revisions::{known_document, known_revision};
use super::valid::Checks;
use super::{FieldError, Listed, Once, Page, Principal, Role, Service, ServiceError};
use crate::engine::{Numbering, Wanted};
use crate::secret;
use crate::store::audit::{self, Act};
use crate::store::kits::{self, KitFilter, KitRow};
use crate::store::{Conn, StoreError};
use matchmark_core::document::{OneKit, Severity};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use utoipa::{IntoParams, ToSchema};

/// A kit to register.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct NewKit {
    /// Serial: capital letters, digits and hyphens.
    #[schema(example = "QF-0101")]
    pub serial: String,
    /// Id of the design.
    #[schema(example = "fenrunner-two")]
    pub design: String,
    /// Letter of the revision that is in the box.
    #[schema(example = "A")]
    pub revision: String,
    /// Choice by option; an option that is not named has its first choice.
    #[serde(default)]
    pub choices: BTreeMap<String, String>,
    /// Who bought it.
    pub customer: Customer,
}

/// Who bought a kit.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Customer {
    /// Name.
    pub name: String,
    /// Address for electronic mail.
    pub email: String,
}

/// A kit.
#[derive(Debug, Clone, Serialize, Deserialize, ToSchema)]
pub struct KitView {
    /// Serial.
    pub serial: String,
    /// Id of the design.
    pub design: String,
    /// Letter of the revision that is in the box.
    pub revision: String,
    /// Choice by option as it was sold.
    #[serde(default)]
    pub choices: BTreeMap<String, String>,
    /// Who bought it.
    pub customer: Customer,
    /// When it was registered, RFC 3339 in UTC.
    pub created_at: String,
}

impl From<KitRow> for KitView {
    fn from(row: KitRow) -> Self {
        Self {
            serial: row.serial,
            design: row.design,
            revision: row.revision,
            choices: serde_json::from_str(&row.choices).unwrap_or_default(),
            customer: Customer { name: row.customer_name, email: row.customer_email },
            created_at: row.created_at,
        }
    }
}

/// Which kits to list.
#[derive(Debug, Clone, Default, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct KitsWanted {
    /// Only serials that begin like this.
    pub serial: Option<String>,
    /// Only kits of this design.
    pub design: Option<String>,
    /// Only kits of the revision with this letter.
    pub revision: Option<String>,
    /// How many at most: 50 when absent, never more than 200.
    pub page_size: Option<usize>,
    /// The `next` of the page before.
    pub cursor: Option<String>,
}

impl Service {
    /// Registers a kit.
    pub async fn create_kit(&self, who: &Principal, new: NewKit, once: &Once) -> Result<KitView, ServiceError> {
        who.may_publish()?;
        let mut checks = Checks::default();
        checks.serial("/serial", &new.serial);
        checks.line("/customer/name", &new.customer.name);
        checks.email("/customer/email", &new.customer.email);
        checks.done()?;
        self.check_choices(&new).await?;
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        if let Some(answer) = once.answered(&mut write).await? {
            return Ok(answer);
        }
        known_revision(&mut write, &new.design, &new.revision).await?;
        let customer = secret::id();
        kits::insert_customer(&mut write, &customer, &new.customer.name, &new.customer.email).await?;
        let row = KitRow {
            serial: new.serial,
            design: new.design,
            revision: new.revision,
            customer_name: new.customer.name,
            customer_email: new.customer.email,
            choices: serde_json::json!(new.choices).to_string(),
            created_at: stamp.at().to_owned(),
        };
        match kits::insert(&mut write, &row, &customer).await {
            Err(StoreError::Duplicate) => return Err(ServiceError::KitExists(row.serial)),
            done => done?,
        }
        let act =
            Act { at: stamp.at(), actor: &who.token, action: "create-kit", subject: &format!("kits/{}", row.serial) };
        audit::append(&mut write, act).await?;
        let view = KitView::from(row);
        once.record(&mut write, &view, stamp.at()).await?;
        write.commit().await?;
        Ok(view)
    }

    /// Refuses choices that the design does not have.
    async fn check_choices(&self, new: &NewKit) -> Result<(), ServiceError> {
        if new.choices.is_empty() {
            return Ok(());
        }
        let document = {
            let mut read = self.store.read().await?;
            known_document(&mut read, &new.design, &new.revision).await?
        };
        let kit = OneKit { choices: new.choices.clone(), ..OneKit::default() };
        let wanted = Wanted { document, kit, numbers: Numbering::After(None) };
        let evaluated = self.engine.evaluate(wanted).await?;
        let wrong = evaluated.evaluation.findings.iter().filter(|finding| finding.severity == Severity::Error);
        let errors: Vec<FieldError> = wrong
            .map(|finding| FieldError { pointer: "/choices".to_owned(), detail: finding.message.clone() })
            .collect();
        if errors.is_empty() { Ok(()) } else { Err(ServiceError::Invalid(errors)) }
    }

    /// A page of the kits wanted, in order of their serial.
    pub async fn kits(
        &self,
        who: &Principal,
        wanted: &KitsWanted,
        page: &Page,
    ) -> Result<Listed<KitView>, ServiceError> {
        who.may_support()?;
        let filter = KitFilter {
            serial_prefix: wanted.serial.clone().unwrap_or_default(),
            design: wanted.design.clone(),
            revision: wanted.revision.clone(),
        };
        let mut read = self.store.read().await?;
        let limit = i64::try_from(page.limit + 1).unwrap_or(i64::MAX);
        let rows = kits::list(&mut read, &filter, &page.after, limit).await?;
        let views = rows.into_iter().map(KitView::from).collect();
        Ok(Listed::cut(views, page.limit, |view: &KitView| view.serial.clone()))
    }

    /// One kit.
    pub async fn kit(&self, who: &Principal, serial: &str) -> Result<KitView, ServiceError> {
        let mut read = self.store.read().await?;
        Ok(readable_kit(&mut read, who, serial).await?.into())
    }
}

/// The kit when this caller may read it. To a builder, another's kit and no kit look the same.
pub(super) async fn readable_kit(conn: &mut Conn, who: &Principal, serial: &str) -> Result<KitRow, ServiceError> {
    who.may_read_kit(serial)?;
    match (kits::find(conn, serial).await?, &who.role) {
        (Some(kit), _) => Ok(kit),
        (None, Role::Builder { .. }) => Err(ServiceError::Hidden),
        (None, _) => Err(ServiceError::UnknownKit(serial.to_owned())),
    }
}
