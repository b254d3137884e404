//! The use cases: who may do what, by which rules, in one transaction each. They know neither the requests nor
//! the answers of the service; the webhook in `send` is the one HTTP client.

pub mod engine;
pub mod metrics;
pub mod send;

mod designs;
mod house;
mod kits;
mod notices;
mod packs;
mod people;
pub mod refusals;
mod rules;
pub mod words;

pub use designs::changes::ChangesView;
pub use designs::creation::{DesignView, NewDesign};
pub use designs::design_file::DesignFile;
pub use designs::drafts::{DraftCondition, DraftView, FindingsView};
pub use designs::figures::{CombinationFigures, FiguresView, TakeFigures, figures_that_differ};
pub use designs::files::{FileView, FilesOf, LabelsWanted, MadeFile};
pub use designs::publish::Publish;
pub use designs::review::ReviewView;
pub use designs::revisions::RevisionView;
pub use designs::saves::{Restore, SaveView};
pub use designs::sheets::RevisionSheets;
pub use designs::states::RecallLedger;
pub use designs::status::STATUS_LASTS;
pub use designs::stock_plans::{SectionPlans, StockForKits, StockWanted};
pub use designs::touched::{Counts, Touched, TouchedGroup};
pub use house::checkpoints::join_chains;
pub use house::contact::{ContactView, NewContact};
pub use house::demo::Demo;
pub use house::feed::{EventsWanted, NewEvents};
pub use house::inspection::{Inspection, inspect};
pub use house::keys::{PublicKeys, Revoked, adopt as adopt_keys, is_signed_for, must_be_ours, revoke as revoke_key};
pub use house::restored::record_restore;
pub use house::signing::PublicKeyView;
pub use house::sweep::ORPHANS_STAY;
pub use kits::boxes::{BoxesView, NewBoxes};
pub use kits::holds::{HoldView, NewHold};
pub use kits::import::Imported;
pub use kits::measurements::{Measured, MeasurementView};
pub use kits::moves::{MoveView, NewMove};
pub use kits::notes::{NewNote, NoteView};
pub use kits::registration::{Customer, KitView, KitsWanted, NewKit};
pub use kits::standing::{GaugeView, Standing};
pub use notices::deliveries::{DeliveriesWanted, DeliveryView};
pub use notices::message::{HolderMessage, HolderMessageType};
pub use notices::of_kits::{KitNotice, NoticeState, OutstandingWanted};
pub use notices::raising::{NewNotice, NoticeDetails, NoticeView};
pub use notices::stop_sheets::StopSheet;
pub use packs::downloads::Download;
pub use packs::files::{PackFile, PackView, VoidNumber};
pub use packs::issued_files::FileStatus;
pub use packs::jobs::{NewPackJob, PackJobKit, PackJobKitState, PackJobState, PackJobView};
pub use packs::new_pack::NewPack;
pub use packs::scanned_sheet::{PageState, PageStatus, Sealing};
pub use people::access_code::AccessCard;
pub use people::customers::{CustomerExport, CustomerView, erase_again};
pub use people::sessions::SESSION_LASTS;
pub use people::sign_in::SignIn;
pub use people::support::{KitAnswer, LookUp};
pub use people::tokens::{NewToken, SupplierRole, TokenFacts, TokenView};
pub use refusals::{FieldError, ServiceError};
pub use rules::answered::Answered;
pub use rules::contact::contact_fault;
pub use rules::events::{EventFacts, EventType, EventView, JobEnd};
pub use rules::idempotency::IdempotentCall;
pub use rules::lookup::one_kit_facts;
pub use rules::outbox::DeliveryState;
pub use rules::principal::{Principal, Role};
pub use rules::publication::ChangeClass;
pub use rules::reasons::{Reason, Recall};
pub use rules::review::DraftState;
pub use rules::standing::{KitStanding, PackState};
pub use rules::states::RevisionState;
pub use rules::{caller_address, request_identity};

use designs::compared::Compared;
use designs::figures::Agreed;
use engine::Engine;
use house::readiness::Readiness;
use matchmark_store::Store;
use matchmark_store::clock::Clock;
use matchmark_store::secret::{self, Maker};
use metrics::Metrics;
use packs::downloads::DownloadLog;
use rules::idempotency::InFlight;
use send::Channels;
use std::sync::Arc;
use std::time::Duration;
use tokio::sync::{Notify, watch};
use words::Words;

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

/// How many packs of their kit a builder may have drawn in 24 hours where nothing else is said.
pub const BUILDER_PACKS: usize = 10;

/// The service: what is kept, what computes, what time it is.
pub struct Service {
    store: Arc<Store>,
    engine: Engine,
    clock: Arc<dyn Clock>,
    supplier: String,
    second_approver: bool,
    /// How many packs of their kit a builder may have drawn in 24 hours.
    builder_packs: usize,
    /// Bytes; with less disk left the service is not ready.
    min_free_disk: u64,
    downloads: DownloadLog,
    sealing: Option<Sealing>,
    maker: Maker,
    compared: Compared,
    agreed: Agreed,
    metrics: Arc<Metrics>,
    readiness: Readiness,
    in_flight: InFlight,
    /// Sets this process apart from others on the same database.
    process: String,
    /// A job was asked for or cancelled.
    job_news: Notify,
    /// A delivery was written down, or is to be tried again.
    delivery_news: Notify,
    channels: Channels,
    /// The language in which it speaks.
    words: &'static Words,
    /// True once work in the background is to end.
    stopping: watch::Sender<bool>,
    /// True once the process must not go on.
    given_up: watch::Sender<bool>,
}

impl Service {
    /// A service in the name of a supplier, with so much time for one computation.
    pub fn new(store: Store, clock: Arc<dyn Clock>, supplier: String, computing: Duration) -> Self {
        let store = Arc::new(store);
        let metrics = Arc::new(Metrics::default());
        Self {
            downloads: DownloadLog::start(Arc::clone(&store)),
            compared: Compared::default(),
            agreed: Agreed::default(),
            store,
            engine: Engine::new(Arc::clone(&metrics), computing),
            clock,
            supplier,
            second_approver: false,
            builder_packs: BUILDER_PACKS,
            min_free_disk: 0,
            sealing: None,
            maker: Maker::of(&secret::token("")),
            metrics,
            readiness: Readiness::default(),
            in_flight: InFlight::default(),
            process: secret::id(),
            job_news: Notify::new(),
            delivery_news: Notify::new(),
            channels: Channels::default(),
            words: &words::EN,
            stopping: watch::Sender::new(false),
            given_up: watch::Sender::new(false),
        }
    }

    /// Tells holders of kits over these channels.
    pub fn telling_over(self, channels: Channels) -> Self {
        Self { channels, ..self }
    }

    /// Takes no more work from now on, and tells all work in the background, and whoever waits for news of it, to end.
    pub fn stop(&self) {
        self.stopping.send_replace(true);
    }

    /// Ends the process, because the disk did not confirm a write. Trying again would succeed and prove nothing: the kernel may have
    /// dropped what it could not write.
    pub fn give_up(&self) {
        self.given_up.send_replace(true);
    }

    /// Takes note of what went wrong in the background.
    fn note(&self, error: &ServiceError) {
        if matches!(error, ServiceError::NotSynced) {
            self.give_up();
        }
    }

    /// Returns when the process must not go on.
    pub async fn given_up(&self) {
        // It fails only when the sender is gone, and then it is time too.
        let _ = self.given_up.subscribe().wait_for(|given_up| *given_up).await;
    }

    /// Whether the process must not go on.
    pub fn has_given_up(&self) -> bool {
        *self.given_up.borrow()
    }

    /// Returns when work in the background is to end.
    pub async fn stopped(&self) {
        // It fails only when the sender is gone, and then it is time too.
        let _ = self.stopping.subscribe().wait_for(|stopping| *stopping).await;
    }

    /// What computes.
    pub fn engine(&self) -> &Engine {
        &self.engine
    }

    /// The supplier whose service this is.
    pub fn supplier(&self) -> &str {
        &self.supplier
    }

    /// What is counted.
    pub fn metrics(&self) -> &Arc<Metrics> {
        &self.metrics
    }

    /// All that is counted and measured, in the text format of Prometheus.
    pub fn metrics_text(&self) -> String {
        self.metrics.text(&self.store.pools())
    }

    /// Where people reach it, such as `https://packs.example`; empty when packs are not signed.
    fn public_address(&self) -> String {
        self.sealing.as_ref().map(|sealing| sealing.public.clone()).unwrap_or_default()
    }

    /// Whether people reach it over TLS, as far as the address on its pages says.
    pub fn is_secure(&self) -> bool {
        self.sealing.as_ref().is_some_and(|sealing| sealing.address.starts_with("HTTPS://"))
    }

    /// Writes down what is still in hand and closes the store.
    pub async fn close(&self) {
        self.downloads.flush().await;
        self.store.close().await;
    }
}
