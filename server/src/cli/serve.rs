//! `matchmark serve`

use super::{Failure, key, log};
use crate::clock::{Clock, SystemClock};
use crate::config::{Config, Given, Kept, Secret, Sources, TrustedProxies};
use crate::listen::Signals;
use crate::send::Channels;
use crate::service::{Sealing, Service, is_signed_for, must_be_ours};
use crate::store::{Store, backup};
use crate::{api, listen};
use matchmark_core::seal::PublicKey;
use std::fs::DirBuilder;
use std::net::SocketAddr;
use std::os::unix::fs::DirBuilderExt;
use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;
use tokio::net::TcpListener;
use tokio::runtime::Runtime;
use tokio::sync::watch;

/// What is listened on.
pub struct Doors {
    /// For the API.
    pub api: TcpListener,
    /// For Prometheus.
    pub metrics: Option<TcpListener>,
    /// Whose word about callers' addresses is taken.
    pub trusted: TrustedProxies,
}

pub fn run(given: &Given) -> Result<ExitCode, Failure> {
    let config = Config::from_sources(&Sources::gather(given)?)?;
    log::start(&config.log, config.log_format)?;
    Runtime::new()?.block_on(async {
        let api = bind(config.listen).await?;
        let metrics = match config.metrics_listen {
            Some(address) => Some(bind(address).await?),
            None => None,
        };
        let here = format!("http://{}", api.local_addr()?);
        let public = config.public_address.as_ref().unwrap_or(&here);
        let channels = config.sending.channels().map_err(|error| Failure::Usage(error.to_string()))?;
        let opening = Opening {
            kept: &config.kept,
            supplier: config.supplier,
            contact: config.contact,
            public,
            channels,
            second_approver: config.second_approver,
            min_free_disk: config.min_free_disk,
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
        serve(Doors { api, metrics, trusted: config.trusted_proxies }, signals, service).await
    })
}

/// What a service is opened with.
pub struct Opening<'a> {
    /// Where things are kept.
    pub kept: &'a Kept,
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
    /// Bytes of disk that must be left.
    pub min_free_disk: u64,
}

/// The service over what is kept; a data directory that is missing is created for this user only. The key that signs packs is made
/// in it unless another is given or the database is signed for already.
pub async fn open(opening: Opening<'_>) -> Result<Arc<Service>, Failure> {
    let Opening { kept, supplier, contact, public, channels, second_approver, min_free_disk } = opening;
    create_private(&kept.data)?;
    backup::must_be_whole(&kept.data)?;
    let (stamp, database) = (SystemClock.stamp(), kept.database.as_ref().map(Secret::reveal));
    let store = Store::open(&kept.data, database, &kept.blobs, stamp.at()).await?;
    let may_make = !is_signed_for(&store).await?;
    let former = must_be_ours(&store, &SystemClock, &key::public(kept, may_make)?).await?;
    let former = former.iter().filter_map(|key| PublicKey::from_hex(key).ok()).collect();
    let sealing = Sealing::new(key::of(kept, false)?, former, key::of_status(kept, false)?, public);
    let service = Service::new(store, Arc::new(SystemClock), supplier);
    let service = service.sealed_with(sealing).telling_over(channels).wanting_second_approver(second_approver);
    let service = service.needing_free_disk(min_free_disk);
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
            () = service.given_up() => tracing::error!("the disk did not confirm a write: the service stops"),
        }
        service.stop();
        stop.send_replace(true);
    };
    let until = |mut stopped: watch::Receiver<bool>| async move {
        // It ends with an error only when there is nobody left to ask for it.
        let _ = stopped.wait_for(|stop| *stop).await;
    };
    let api = listen::serve(doors.api, api::router(Arc::clone(&service)), doors.trusted, until(stopped.clone()));
    let metrics = async {
        if let Some(listener) = doors.metrics {
            let router = api::metrics_router(Arc::clone(&service));
            listen::serve(listener, router, TrustedProxies::default(), until(stopped)).await;
        }
    };
    tokio::join!(asked, api, metrics);
    for (what, task) in
        [("jobs", jobs), ("deliveries", deliveries), ("orphaned blobs", sweep), ("chains of acts", chains)]
    {
        if let Err(error) = task.await {
            tracing::error!(%error, "the work on {what} broke off");
        }
    }
    service.close().await;
    Ok(if service.has_given_up() { ExitCode::FAILURE } else { ExitCode::SUCCESS })
}
