//! `matchmark serve`

use super::{Failure, key, log};
use crate::config::{Callers, Config, Given, Secret, Sources, StorageSettings, TrustedProxies};
use crate::http::request_metrics;
use crate::listen::Signals;
use crate::{listen, router};
use axum::http::HeaderValue;
use matchmark_service::send::Channels;
use matchmark_service::{Sealing, Service, is_signed_for, must_be_ours};
use matchmark_store::clock::{Clock, SystemClock};
use matchmark_store::{Store, backup};
use std::fs::DirBuilder;
use std::future::Future;
use std::net::SocketAddr;
use std::os::unix::fs::DirBuilderExt;
use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::TcpListener;
use tokio::runtime::Runtime;
use tokio::sync::watch;
use tokio::time::Instant;

/// How long work in the background may go on at least when all callers have gone, and how long closing may take.
const FINISH_WITHIN: Duration = Duration::from_secs(3);

/// How long a computation is waited for that was told to stop.
const LET_GO_WITHIN: Duration = Duration::from_secs(1);

/// What is listened on.
pub struct Doors {
    /// For the API.
    pub api: TcpListener,
    /// For Prometheus.
    pub metrics: Option<TcpListener>,
    /// Whose word about callers' addresses is taken.
    pub trusted: TrustedProxies,
    /// How much they may take.
    pub callers: Callers,
    /// Other sites whose pages may call.
    pub origins: Vec<HeaderValue>,
}

pub fn run(given: &Given) -> Result<ExitCode, Failure> {
    let config = Config::from_sources(&Sources::gather(given)?)?;
    log::start(&config.log, config.log_format)?;
    until_its_end(async {
        let api = bind(config.listen).await?;
        let metrics = match config.metrics_listen {
            Some(address) => Some(bind(address).await?),
            None => None,
        };
        let here = format!("http://{}", api.local_addr()?);
        let public = config.public_address.as_ref().unwrap_or(&here);
        let opening = Opening {
            kept: &config.kept,
            supplier: config.supplier,
            contact: config.contact,
            public,
            channels: config.channels,
            second_approver: config.second_approver,
            builder_packs: config.builder_packs,
            min_free_disk: config.min_free_disk,
            computing: config.callers.computing,
        };
        let service = open(opening).await?;
        let signals = Signals::hear()?;
        if let Some(first) = service.first_token().await? {
            println!("Publisher token, shown this once: {}", first.token);
        }
        if let Some(metrics) = &metrics {
            println!("Metrics at http://{}/metrics", metrics.local_addr()?);
        }
        println!("Listening on {here}");
        let doors = Doors {
            api,
            metrics,
            trusted: config.trusted_proxies,
            callers: config.callers,
            origins: config.cors_origins,
        };
        serve(doors, signals, service).await
    })
}

/// Runs something to its end. What still computes then is told to stop, and not waited for beyond a moment.
pub fn until_its_end(work: impl Future<Output = Result<ExitCode, Failure>>) -> Result<ExitCode, Failure> {
    let runtime = Runtime::new()?;
    let ended = runtime.block_on(work);
    runtime.shutdown_timeout(LET_GO_WITHIN);
    ended
}

/// What a service is opened with.
pub struct Opening<'a> {
    /// Where things are kept.
    pub kept: &'a StorageSettings,
    /// Name of the supplier.
    pub supplier: String,
    /// Whom to ask, for a database that does not know yet.
    pub contact: Option<String>,
    /// Address that people reach it at.
    pub public: &'a str,
    /// Over what holders of kits are told.
    pub channels: Channels,
    /// Whether a second person must look at a draft before it is published.
    pub second_approver: bool,
    /// How many packs of their kit a builder may have drawn in 24 hours.
    pub builder_packs: usize,
    /// Bytes of disk that must be left.
    pub min_free_disk: u64,
    /// How long one computation may take.
    pub computing: Duration,
}

/// The service over what is kept; a data directory that is missing is created for this user only. The key that signs packs is made
/// in it unless another is given or the database is signed for already.
pub async fn open(opening: Opening<'_>) -> Result<Arc<Service>, Failure> {
    let Opening { kept, supplier, contact, public, channels, second_approver, builder_packs, min_free_disk, computing } =
        opening;
    create_private(&kept.data)?;
    backup::must_be_whole(&kept.data)?;
    let (stamp, database) = (SystemClock.stamp(), kept.database.as_ref().map(Secret::reveal));
    let store = Store::open(&kept.data, database, &kept.blobs, stamp.at()).await?;
    let may_make = !is_signed_for(&store).await?;
    must_be_ours(&store, &SystemClock, &key::public(kept, may_make)?).await?;
    let sealing = Sealing::new(key::of(kept, false)?, key::of_status(kept, false)?, public);
    let service = Service::new(store, Arc::new(SystemClock), supplier, computing);
    let service = service.sealed_with(sealing).telling_over(channels).wanting_second_approver(second_approver);
    let service = service.needing_free_disk(min_free_disk).drawing_for_builders(builder_packs);
    if let Some(contact) = &contact {
        service.first_contact(contact).await?;
    }
    Ok(Arc::new(service))
}

/// Creates a directory that only this user can look into, where it is missing.
pub fn create_private(directory: &Path) -> Result<(), Failure> {
    let mut builder = DirBuilder::new();
    let created = builder.recursive(true).mode(0o700).create(directory);
    created.map_err(|source| Failure::Unwritable { path: directory.to_owned(), source })
}

pub async fn bind(address: SocketAddr) -> Result<TcpListener, Failure> {
    TcpListener::bind(address).await.map_err(|source| Failure::Listen { address, source })
}

/// Serves until the process is asked to stop, then finishes what is in hand and closes what is open.
pub async fn serve(doors: Doors, mut signals: Signals, service: Arc<Service>) -> Result<ExitCode, Failure> {
    let (stop, stopped) = watch::channel(false);
    let jobs = tokio::spawn(Arc::clone(&service).work_on_pack_jobs());
    let deliveries = tokio::spawn(Arc::clone(&service).deliver());
    let sweep = tokio::spawn(Arc::clone(&service).sweep());
    let chains = tokio::spawn(Arc::clone(&service).join_chains());
    let asked = async {
        tokio::select! {
            () = signals.heard() => {}
            () = service.given_up() => tracing::error!("the disk did not confirm a write, so the service stops"),
        }
        service.stop();
        stop.send_replace(true);
        Instant::now()
    };
    let until = |mut stopped: watch::Receiver<bool>| async move {
        // It ends with an error only when there is nobody left to ask for it.
        let _ = stopped.wait_for(|stop| *stop).await;
    };
    let callers = doors.callers;
    let router = router::router(Arc::clone(&service), &callers, &doors.origins);
    let api = listen::serve(doors.api, router, doors.trusted, &callers, until(stopped.clone()));
    let metrics = async {
        if let Some(listener) = doors.metrics {
            let router = request_metrics::router(Arc::clone(&service));
            listen::serve(listener, router, TrustedProxies::default(), &callers, until(stopped)).await;
        }
    };
    let (asked, (), ()) = tokio::join!(asked, api, metrics);
    // They were told to end when the callers were, and have as long.
    let ends = (asked + listen::DRAIN_WITHIN).max(Instant::now() + FINISH_WITHIN);
    let tasks = [("jobs", jobs), ("deliveries", deliveries), ("orphaned blobs", sweep), ("chains of acts", chains)];
    for (what, mut task) in tasks {
        match tokio::time::timeout_at(ends, &mut task).await {
            Ok(Ok(())) => {}
            Ok(Err(error)) => tracing::error!(%error, "the work on {what} failed"),
            Err(_) => {
                tracing::warn!("the work on {what} was cut off when the time to finish it ran out");
                task.abort();
            }
        }
    }
    if tokio::time::timeout(FINISH_WITHIN, service.close()).await.is_err() {
        tracing::warn!("the store was not closed in time; it stays as it was last written");
    }
    Ok(if service.has_given_up() { ExitCode::FAILURE } else { ExitCode::SUCCESS })
}
