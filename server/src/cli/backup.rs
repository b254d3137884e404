//! `matchmark backup`

use super::{Failure, key, print};
use crate::config::{Config, Given, Secret, Sources, StorageSettings};
use crate::listen::Signals;
use clap::Args;
use matchmark_service::join_chains;
use matchmark_store::clock::{Clock, SystemClock};
use matchmark_store::{Store, backup};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use tokio::runtime::Runtime;

/// Where the backup goes.
#[derive(Args)]
pub struct Options {
    /// New folder for the backup. It holds the signing key and personal data: keep it as safe as the data directory.
    #[arg(long, value_name = "DIR")]
    to: PathBuf,

    #[command(flatten)]
    given: Given,
}

/// Takes a backup; the service may go on working. Asked to stop, it leaves nothing behind.
pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let config = Config::from_sources(&Sources::gather(&options.given)?)?;
    let key = key::text_of(&config.kept)?;
    let public = key::of(&config.kept, false)?.public().hex();
    let begun = SystemClock.stamp();
    let key = backup::Key { secret: &key, public: &public };
    let done = Runtime::new()?.block_on(async {
        let mut signals = Signals::hear()?;
        tokio::select! {
            done = take(&config.kept, key, begun.at(), &options.to) => done,
            () = signals.heard() => Err(Failure::Other("stopped before the backup was complete; nothing was kept".to_owned())),
        }
    })?;
    print(&format!("backup of {} with {} blobs in {}\n", begun.at(), done.blobs, options.to.display()))?;
    for sha256 in &done.damaged {
        eprintln!("matchmark: blob {sha256} is missing or damaged and not in the backup");
    }
    Ok(if done.damaged.is_empty() { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

/// With a checkpoint that joins all chains up to here; a database that takes no write, as on a full disk, is backed up without.
async fn take(place: &StorageSettings, key: backup::Key<'_>, begun: &str, to: &Path) -> Result<backup::Done, Failure> {
    let store = Store::beside(&place.data, place.database.as_ref().map(Secret::reveal), &place.blobs).await?;
    if let Err(error) = join_chains(&store, &SystemClock).await {
        eprintln!("matchmark: the backup has no checkpoint of its own: {error}");
    }
    store.close().await;
    Ok(backup::take(kept(place), key, begun, to).await?)
}

/// Where things are kept, as the store wants to know it.
pub fn kept(kept: &StorageSettings) -> backup::Storage<'_> {
    backup::Storage { directory: &kept.data, address: kept.database.as_ref().map(Secret::reveal), blobs: &kept.blobs }
}
