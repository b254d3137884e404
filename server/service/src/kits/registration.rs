//! Kits: one sold flat pack each, tied to the revision it was shipped with until it is moved to another.

use crate::engine::{Numbering, Wanted};
use crate::notices::late::{Alike, Late};
use crate::rules::events::{EventType, Happened};
use crate::rules::lookup::{known_document, known_revision, readable_kit};
use crate::rules::standing::{KitStanding, Standings};
use crate::rules::states::must_take_kits;
use crate::rules::valid::Checks;
use crate::words::of_problems;
use crate::{FieldError, IdempotentCall, Listed, Page, Principal, Service, ServiceError};
use matchmark_core::document::{OneKit, Severity};
use matchmark_store::audit::{self, Act};
use matchmark_store::kits::{self, KitFilter, KitRow};
use matchmark_store::{Conn, StoreError, customers, secret};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use utoipa::{IntoParams, ToSchema};

/// A kit to register.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({
    "serial": "QF-0109", "design": "fenrunner-two", "revision": "B", "order_number": "2026-1187",
    "customer": {"name": "Ines Halvard", "email": "ines@example.com"}
}))]
pub struct NewKit {
    /// Serial: capital letters, digits and hyphens.
    #[schema(example = "QF-0101")]
    pub serial: String,
    /// Id of the design.
    #[schema(example = "fenrunner-two")]
    pub design: String,
    /// Letter of the revision that the kit is sold with.
    #[schema(example = "A")]
    pub revision: String,
    /// Choice by option; an option that is not named has its first choice.
    #[serde(default)]
    pub choices: BTreeMap<String, String>,
    /// Number of the order that it was sold with.
    #[serde(default)]
    pub order_number: String,
    /// Who bought it. The same name and address as before is the same customer.
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
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct KitView {
    /// Serial.
    pub serial: String,
    /// Id of the design.
    pub design: String,
    /// Letter of the revision that the kit has now: that it was sold with, or the one that it was moved to.
    pub revision: String,
    /// Choice by option as it was sold.
    #[serde(default)]
    pub choices: BTreeMap<String, String>,
    /// Number of the order; absent when it is not known.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub order_number: String,
    /// Id of the customer.
    pub customer_id: String,
    /// Who bought it; empty once they were erased.
    pub customer: Customer,
    /// When it was registered, RFC 3339 in UTC.
    pub created_at: String,
    /// How it stands, in the words of its page and of the code of its pack; absent in lists.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub standing: Option<KitStanding>,
}

impl From<KitRow> for KitView {
    fn from(row: KitRow) -> Self {
        Self {
            serial: row.serial,
            design: row.design,
            revision: row.revision,
            choices: serde_json::from_str(&row.choices).unwrap_or_default(),
            order_number: row.order_number,
            customer_id: row.customer,
            customer: Customer { name: row.customer_name, email: row.customer_email },
            created_at: row.created_at,
            standing: None,
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
    /// Only kits of customers whose name or address holds this text.
    pub customer: Option<String>,
    /// Only kits of this order.
    pub order_number: Option<String>,
    /// Only kits with exactly these choices, as a JSON object such as `{"drive":"right"}`.
    pub choices: Option<String>,
    /// How many at most: 50 when absent, never more than 200.
    #[param(minimum = 1)]
    pub page_size: Option<usize>,
    /// The `next` of the page before.
    pub cursor: Option<String>,
}

/// What is recorded of a registration.
#[derive(Debug, Deserialize, Serialize)]
struct Registered {
    serial: String,
}

impl Service {
    /// Registers a kit.
    pub async fn create_kit(
        &self,
        who: &Principal,
        new: NewKit,
        once: &IdempotentCall,
    ) -> Result<KitView, ServiceError> {
        who.may_publish()?;
        let mut checks = Checks::default();
        check_new_kit(&mut checks, &new);
        checks.done()?;
        {
            let mut read = self.store.read().await?;
            if let Some(Registered { serial }) = once.answered(&mut read).await? {
                return Ok(readable_kit(&mut read, who, &serial).await?.into());
            }
        }
        self.check_choices(&new).await?;
        let alike = alike(&new);
        let mut late = Late::default();
        let mut write = self.write_knowing(&mut late, std::slice::from_ref(&alike)).await?;
        let stamp = self.clock.stamp();
        if let Some(Registered { serial }) = once.answered(&mut write).await? {
            return Ok(readable_kit(&mut write, who, &serial).await?.into());
        }
        known_revision(&mut write, &new.design, &new.revision).await?;
        must_take_kits(&mut write, &new.design, &new.revision).await?;
        let serial = new.serial.clone();
        register(&mut write, new, stamp.at(), &who.token).await?;
        let happened = Happened::to_kit(EventType::KitRegistered, &serial, &alike.design, &alike.revision);
        self.happened(&mut write, happened, &stamp).await?;
        self.tell_late(&mut write, &mut late, &serial, &alike, &stamp).await?;
        // Not the whole answer: it names the customer, who may be erased.
        once.record(&mut write, &Registered { serial: serial.clone() }, stamp.at()).await?;
        let view = readable_kit(&mut write, who, &serial).await?.into();
        write.commit().await?;
        self.delivery_news.notify_one();
        Ok(view)
    }

    /// Refuses a kit that cannot be built: its own choices of its revision are computed, whatever was looked at when that was
    /// published.
    pub(crate) async fn check_choices(&self, new: &NewKit) -> Result<(), ServiceError> {
        let document = {
            let mut read = self.store.read().await?;
            known_document(&mut read, &new.design, &new.revision).await?
        };
        let kit = OneKit { choices: new.choices.clone(), ..OneKit::default() };
        let wanted = Wanted { document, kit, numbers: Numbering::After(None) };
        let evaluated = self.engine.evaluate(wanted).await?;
        let wrong = evaluated.evaluation.findings.iter().filter(|finding| finding.severity == Severity::Error);
        let pointer = if new.choices.is_empty() { "/revision" } else { "/choices" };
        let errors: Vec<FieldError> =
            wrong.map(|finding| FieldError { pointer: pointer.to_owned(), detail: finding.message.clone() }).collect();
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
            customer: wanted.customer.clone(),
            order_number: wanted.order_number.clone(),
            choices: wanted.choices.as_deref().map(choices_as_kept).transpose()?,
        };
        let mut read = self.store.read().await?;
        let limit = i64::try_from(page.limit + 1).unwrap_or(i64::MAX);
        let rows = kits::list(&mut read, &filter, &page.after, limit).await?;
        let views = rows.into_iter().map(KitView::from).collect();
        Ok(Listed::cut(views, page.limit, |view: &KitView| view.serial.clone()))
    }

    /// One kit, and how it stands.
    pub async fn kit(&self, who: &Principal, serial: &str) -> Result<KitView, ServiceError> {
        let mut read = self.store.read().await?;
        let kit = readable_kit(&mut read, who, serial).await?;
        let standing = Standings::read(&mut read, kit.clone()).await?.of_kit(self.words);
        Ok(KitView { standing: Some(standing), ..kit.into() })
    }

    /// One kit for someone who asked whose it is; that goes on record.
    pub async fn kit_with_customer(&self, who: &Principal, serial: &str) -> Result<KitView, ServiceError> {
        who.may_support()?;
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        let view = readable_kit(&mut write, who, serial).await?.into();
        let subject = format!("kits/{serial}");
        let act = Act { at: stamp.at(), actor: &who.token, action: "show-customer", subject: &subject };
        audit::append(&mut write, act).await?;
        write.commit().await?;
        Ok(view)
    }
}

/// What a kit to register must look like by itself.
pub(crate) fn check_new_kit(checks: &mut Checks, new: &NewKit) {
    checks.serial("/serial", &new.serial);
    if !new.order_number.is_empty() {
        checks.line("/order_number", &new.order_number);
    }
    checks.line("/customer/name", &new.customer.name);
    checks.email("/customer/email", &new.customer.email);
}

/// The kits that a new one is like.
pub(crate) fn alike(new: &NewKit) -> Alike {
    Alike {
        design: new.design.clone(),
        revision: new.revision.clone(),
        choices: serde_json::json!(new.choices).to_string(),
    }
}

/// Registers a kit whose revision is known and takes kits.
pub(crate) async fn register(conn: &mut Conn, new: NewKit, at: &str, token: &str) -> Result<(), ServiceError> {
    let row = KitRow {
        customer: customer_id(conn, &new.customer).await?,
        serial: new.serial,
        design: new.design,
        revision: new.revision,
        customer_name: String::new(),
        customer_email: String::new(),
        order_number: new.order_number,
        choices: serde_json::json!(new.choices).to_string(),
        boxes: "[]".to_owned(),
        created_at: at.to_owned(),
    };
    match kits::insert(conn, &row).await {
        Err(StoreError::Duplicate) => return Err(ServiceError::KitExists(row.serial)),
        done => done?,
    }
    let subject = format!("kits/{}", row.serial);
    Ok(audit::append(conn, Act { at, actor: token, action: "create-kit", subject: &subject }).await?)
}

/// Id of a customer, who is added when nobody has just this name and address.
async fn customer_id(conn: &mut Conn, customer: &Customer) -> Result<String, ServiceError> {
    if let Some(id) = customers::same(conn, &customer.name, &customer.email).await? {
        return Ok(id);
    }
    let id = secret::id();
    customers::insert(conn, &id, &customer.name, &customer.email).await?;
    Ok(id)
}

/// Choices as they are kept of a kit.
fn choices_as_kept(given: &str) -> Result<String, ServiceError> {
    let choices: BTreeMap<String, String> = serde_json::from_str(given).map_err(|_| {
        let detail = of_problems().fields.choices("{\"drive\":\"right\"}");
        ServiceError::Invalid(vec![FieldError { pointer: "/choices".to_owned(), detail }])
    })?;
    Ok(serde_json::json!(choices).to_string())
}
