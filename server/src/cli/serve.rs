//! `matchmark serve`

use super::{Failure, key};
use crate::clock::SystemClock;
use crate::config::{Kept, Secret, ServeConfig};
use crate::send::Channels;
use crate::service::{Sealing, Service};
use crate::store::Store;
use crate::{api, listen};
use std::fs::DirBuilder;
use std::net::SocketAddr;
use std::os::unix::fs::DirBuilderExt;
use std::process::ExitCode;
use std::sync::Arc;
use tokio::net::TcpListener;
use tokio::runtime::Runtime;
use tracing_subscriber::EnvFilter;

/// File in the data directory with the key that signs packs.
const SIGNING_KEY: &str = "signing.key";

pub fn run(config: ServeConfig) -> Result<ExitCode, Failure> {
    log("info");
    Runtime::new()?.block_on(async {
        let listener = bind(config.listen).await?;
        let public = format!("http://{}", listener.local_addr()?);
        let channels = config.sending.channels().map_err(|error| Failure::Other(error.to_string()))?;
        let service = open(&config.kept, config.supplier, &public, channels).await?;
        if let Some(first) = service.first_token().await? {
            println!("Publisher token, shown this once: {}", first.token);
        }
        println!("Listening on {public}");
        serve(listener, service).await
    })
}

/// The service over what is kept, reached at the address `public`; a data directory that is missing is created for this user only,
/// and the key that signs packs is made in it.
pub async fn open(kept: &Kept, supplier: String, public: &str, channels: Channels) -> Result<Arc<Service>, Failure> {
    let data = &kept.data;
    let database = kept.database()?;
    let mut builder = DirBuilder::new();
    builder
        .recursive(true)
        .mode(0o700)
        .create(data)
        .map_err(|source| Failure::Unwritable { path: data.clone(), source })?;
    let store = Store::open(data, database.as_ref().map(Secret::reveal)).await?;
    let sealing = Sealing::new(key::kept(&data.join(SIGNING_KEY))?, public);
    let service = Service::new(store, Arc::new(SystemClock), supplier);
    Ok(Arc::new(service.sealed_with(sealing).telling_over(channels)))
}

pub async fn bind(address: SocketAddr) -> Result<TcpListener, Failure> {
    TcpListener::bind(address).await.map_err(|source| Failure::Listen { address, source })
}

/// Serves until the process is asked to stop, then closes what is open.
pub async fn serve(listener: TcpListener, service: Arc<Service>) -> Result<ExitCode, Failure> {
    let router = api::router(Arc::clone(&service));
    let work = tokio::spawn(Arc::clone(&service).work_on_pack_jobs());
    let deliveries = tokio::spawn(Arc::clone(&service).deliver());
    let stop = async {
        if let Err(error) = listen::asked_to_stop().await {
            tracing::error!(%error, "signals cannot be heard");
        }
        service.stop();
    };
    listen::serve(listener, router, stop).await;
    for (what, task) in [("jobs", work), ("deliveries", deliveries)] {
        if let Err(error) = task.await {
            tracing::error!(%error, "the work on {what} broke off");
        }
    }
    service.close().await;
    Ok(ExitCode::SUCCESS)
}

/// Logs to standard error; `MATCHMARK_LOG` says how much.
pub fn log(default: &str) {
    let filter =
        EnvFilter::builder().with_env_var("MATCHMARK_LOG").try_from_env().unwrap_or_else(|_| EnvFilter::new(default));
    tracing_subscriber::fmt().with_env_filter(filter).with_writer(std::io::stderr).with_ansi(false).init();
}
