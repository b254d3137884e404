//! Customers: found, exported, erased. Kits and packs stay, because they name nobody.

use crate::{
    Download, HoldView, KitView, Listed, MoveView, NoteView, PackView, Page, Principal, Service, ServiceError,
};
use matchmark_store::Store;
use matchmark_store::audit::{self, Act};
use matchmark_store::clock::Clock;
use matchmark_store::customers::{self, CustomerRow};
use serde::Serialize;
use utoipa::ToSchema;

/// A customer.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct CustomerView {
    /// Id; says nothing about them.
    pub id: String,
    /// Name; empty once erased.
    pub name: String,
    /// Address for electronic mail; empty once erased.
    pub email: String,
    /// When name and address were erased, RFC 3339 in UTC; absent while they are there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub erased_at: Option<String>,
    /// Serials of their kits.
    pub kits: Vec<String>,
}

impl CustomerView {
    fn of(row: CustomerRow, kits: Vec<String>) -> Self {
        Self { id: row.id, name: row.name, email: row.email, erased_at: row.erased_at, kits }
    }
}

/// All that is kept about a customer.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct CustomerExport {
    /// When it was put together, RFC 3339 in UTC.
    pub exported_at: String,
    /// Who.
    pub customer: CustomerView,
    /// Their kits.
    pub kits: Vec<KitExport>,
}

/// All that is kept about one kit of a customer.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct KitExport {
    /// The kit.
    pub kit: KitView,
    /// How it came to its revision.
    pub moves: Vec<MoveView>,
    /// What was measured.
    pub measurements: Vec<crate::MeasurementView>,
    /// Packs issued for it, with how often each was fetched.
    pub packs: Vec<PackView>,
    /// Who fetched them when, newest first.
    pub downloads: Vec<Download>,
    /// Notes about it.
    pub notes: Vec<NoteView>,
    /// Holds on it.
    pub holds: Vec<HoldView>,
}

impl Service {
    /// A page of the customers whose name or address holds this text, in order of their id.
    pub async fn customers(
        &self,
        who: &Principal,
        part: &str,
        page: &Page,
    ) -> Result<Listed<CustomerView>, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        let limit = i64::try_from(page.limit + 1).unwrap_or(i64::MAX);
        let mut views = Vec::new();
        for row in customers::list(&mut read, part, &page.after, limit).await? {
            let kits = customers::kits(&mut read, &row.id).await?;
            views.push(CustomerView::of(row, kits));
        }
        Ok(Listed::cut(views, page.limit, |view: &CustomerView| view.id.clone()))
    }

    /// One customer.
    pub async fn customer(&self, who: &Principal, id: &str) -> Result<CustomerView, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        let row = customers::find(&mut read, id).await?;
        let row = row.ok_or_else(|| ServiceError::UnknownCustomer(id.to_owned()))?;
        let kits = customers::kits(&mut read, id).await?;
        Ok(CustomerView::of(row, kits))
    }

    /// All that is kept about a customer; that it was asked for goes on record.
    pub async fn export_customer(&self, who: &Principal, id: &str) -> Result<CustomerExport, ServiceError> {
        let customer = self.customer(who, id).await?;
        let stamp = self.clock.stamp();
        let mut exported = Vec::new();
        let all = Page { after: String::new(), limit: usize::MAX - 1 };
        for serial in &customer.kits {
            exported.push(KitExport {
                kit: self.kit(who, serial).await?,
                moves: self.moves(who, serial).await?,
                measurements: self.measurement_history(who, serial).await?,
                packs: self.packs(who, serial).await?,
                downloads: self.downloads(who, serial, &all).await?.items,
                notes: self.notes(who, serial).await?,
                holds: self.holds(who, serial).await?,
            });
        }
        let mut write = self.store.write().await?;
        let subject = format!("customers/{id}");
        let act = Act { at: stamp.at(), actor: &who.token, action: "export-customer", subject: &subject };
        audit::append(&mut write, act).await?;
        write.commit().await?;
        Ok(CustomerExport { exported_at: stamp.at().to_owned(), customer, kits: exported })
    }

    /// Takes a customer's name and address out of what is kept, and the texts of notes about their kits and of holds on them. A second time changes
    /// nothing.
    pub async fn erase_customer(&self, who: &Principal, id: &str) -> Result<CustomerView, ServiceError> {
        who.may_publish()?;
        let before = self.customer(who, id).await?;
        if before.erased_at.is_none() {
            let stamp = self.clock.stamp();
            self.store.erasures().add(id, stamp.at()).await?;
            let mut write = self.store.write().await?;
            customers::erase(&mut write, id, stamp.at()).await?;
            let subject = format!("customers/{id}");
            let act = Act { at: stamp.at(), actor: &who.token, action: "erase-customer", subject: &subject };
            audit::append(&mut write, act).await?;
            write.commit().await?;
            if let Err(error) = self.store.forget().await {
                tracing::warn!(%error, customer = id, "erased, but not yet from every file");
            }
        }
        self.customer(who, id).await
    }
}

/// Erases customers again whom a database from before knows once more, and says how many there were. They go on the list of
/// this store too.
pub async fn erase_again(store: &Store, clock: &dyn Clock, ids: &[String]) -> Result<usize, ServiceError> {
    let mut count = 0;
    for id in ids {
        let stamp = clock.stamp();
        let mut write = store.write().await?;
        let known = customers::find(&mut write, id).await?;
        if known.is_none_or(|row| row.erased_at.is_some()) {
            continue;
        }
        store.erasures().add(id, stamp.at()).await?;
        customers::erase(&mut write, id, stamp.at()).await?;
        let subject = format!("customers/{id}");
        let act = Act { at: stamp.at(), actor: "system", action: "erase-customer-again", subject: &subject };
        audit::append(&mut write, act).await?;
        write.commit().await?;
        count += 1;
    }
    store.forget().await?;
    Ok(count)
}
