//! The use cases: who may do what, by which rules, in one transaction each. Nothing here knows of HTTP.

mod access_code;
mod boxes;
mod changes;
mod compared;
mod customers;
mod demo;
mod design_file;
mod designs;
mod downloads;
mod drafts;
mod drawings;
mod error;
mod joints;
mod kit_import;
mod kit_notices;
mod kits;
mod letter;
mod measurements;
mod moves;
mod notes;
mod notices;
mod once;
mod packs;
mod pages;
mod principal;
mod publish;
mod revisions;
mod saves;
mod sheets;
mod sign_in;
mod solids;
mod states;
mod stock_plans;
mod stop_sheets;
mod support;
mod tokens;
mod touched;
mod valid;

pub use access_code::AccessCard;
pub use boxes::{BoxesView, NewBoxes};
pub use changes::ChangesView;
pub use customers::{CustomerExport, CustomerView};
pub use demo::Demo;
pub use design_file::DesignFile;
pub use designs::{DesignView, NewDesign};
pub use drafts::{DraftCondition, DraftView, FindingsView};
pub use error::{FieldError, ServiceError};
pub use kit_import::Imported;
pub use kit_notices::{KitNotice, OutstandingWanted};
pub use kits::{Customer, KitView, KitsWanted, NewKit};
pub use measurements::{Measured, MeasurementView, one_kit_facts};
pub use moves::{MoveView, NewMove};
pub use notes::{NewNote, NoteView};
pub use notices::{NewNotice, NoticeDetails, NoticeView};
pub use once::Once;
pub use packs::{NewPack, PackView};
pub use pages::{PageState, PageStatus, Sealing};
pub use principal::{Principal, Role};
pub use publish::{ChangeClass, Publish};
pub use revisions::RevisionView;
pub use saves::{Restore, SaveView};
pub use sheets::RevisionSheets;
pub use sign_in::SignIn;
pub use states::{Reason, Recall, RecallLedger};
pub use stock_plans::{SectionPlans, StockForKits, StockWanted};
pub use stop_sheets::StopSheet;
pub use support::LookUp;
pub use tokens::{NewToken, SupplierRole, TokenFacts, TokenView};
pub use touched::Touched;

use crate::clock::Clock;
use crate::engine::Engine;
use crate::store::{Store, StoreError};
use compared::Compared;
use downloads::DownloadLog;
use std::sync::Arc;

/// A page of a list that is wanted.
#[derive(Debug, Clone)]
pub struct Page {
    /// The last key of the page before; empty for the first page.
    pub after: String,
    /// How many.
    pub limit: usize,
}

/// A page of a list.
#[derive(Debug)]
pub struct Listed<T> {
    /// The items.
    pub items: Vec<T>,
    /// The key to go on after, when there is more.
    pub next_after: Option<String>,
}

impl<T> Listed<T> {
    /// Cuts a list that was fetched with one item more than the page holds.
    fn cut(mut items: Vec<T>, limit: usize, key: impl Fn(&T) -> String) -> Self {
        let more = items.len() > limit;
        items.truncate(limit);
        let next_after = if more { items.last().map(key) } else { None };
        Self { items, next_after }
    }
}

/// The service: what is kept, what computes, what time it is.
pub struct Service {
    store: Arc<Store>,
    engine: Engine,
    clock: Arc<dyn Clock>,
    supplier: String,
    downloads: DownloadLog,
    sealing: Option<Sealing>,
    compared: Compared,
}

impl Service {
    /// A service in the name of a supplier.
    pub fn new(store: Store, clock: Arc<dyn Clock>, supplier: String) -> Self {
        let store = Arc::new(store);
        Self {
            downloads: DownloadLog::start(Arc::clone(&store)),
            compared: Compared::default(),
            store,
            engine: Engine::new(),
            clock,
            supplier,
            sealing: None,
        }
    }

    /// What computes.
    pub fn engine(&self) -> &Engine {
        &self.engine
    }

    /// The supplier whose service this is.
    pub fn supplier(&self) -> &str {
        &self.supplier
    }

    /// Whether it can do its work.
    pub async fn ready(&self) -> Result<(), StoreError> {
        self.store.ready().await
    }

    /// Writes down what is still in hand and closes the store.
    pub async fn close(&self) {
        self.downloads.flush().await;
        self.store.close().await;
    }
}
