//! `matchmark restore`

use super::backup::kept;
use super::serve::create_private;
use super::verify::{report, report_backup};
use super::{Failure, print};
use crate::config::{Config, Given, Secret, Sources};
use clap::Args;
use matchmark_service::{erase_again, inspect, join_chains, record_restore};
use matchmark_store::clock::{Clock, SystemClock};
use matchmark_store::{Store, StoreError, backup};
use std::path::PathBuf;
use std::process::ExitCode;
use tokio::runtime::Runtime;

/// What is brought back.
#[derive(Args)]
pub struct Options {
    /// Folder of the backup. The place it is restored into, by the settings, must hold no database.
    #[arg(long, value_name = "DIR")]
    from: PathBuf,

    /// The `erasures` folder of a later backup or of the lost data directory: whoever was erased after this backup is erased again.
    #[arg(long, value_name = "DIR")]
    erasures: Option<PathBuf>,

    /// The packs that are in this place already belong to a database that is lost for good: they are this one's from now on.
    #[arg(long)]
    take_over: bool,

    #[command(flatten)]
    given: Given,
}

/// Checks a backup, restores it, leaves out the numbers and letters that may have been given out since, erases again whom it
/// remembers though they were erased since, and looks at all of it.
pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let config = Config::from_sources(&Sources::gather(&options.given)?)?;
    let later = match &options.erasures {
        Some(folder) => backup::names(folder).map_err(|error| match error {
            StoreError::File { path, source } => Failure::Unreadable { path, source },
            other => other.into(),
        })?,
        None => Vec::new(),
    };
    let faults = backup::check(&options.from)?;
    if !faults.is_empty() {
        report_backup(&faults)?;
        return Err(Failure::Other("nothing was restored".to_owned()));
    }
    create_private(&config.kept.data)?;
    Runtime::new()?.block_on(async {
        let place = kept(&config.kept);
        let manner = backup::Manner { keep_key: config.kept.signing_key.is_some(), take_over: options.take_over };
        let taken_at = backup::bring_back(place, manner, &options.from).await?;
        let database = config.kept.database.as_ref().map(Secret::reveal);
        let stamp = SystemClock.stamp();
        let store = Store::open_restored(&config.kept.data, database, &config.kept.blobs, stamp.at()).await?;
        store.rename(stamp.at()).await?;
        record_restore(&store, &SystemClock, &taken_at).await?;
        let mut erased = store.erasures().all().await?;
        erased.extend(later);
        let again = erase_again(&store, &SystemClock, &erased).await?;
        join_chains(&store, &SystemClock).await?;
        backup::finished(&config.kept.data)?;
        let found = inspect(&mut store.read().await?, store.blobs()).await?;
        store.close().await;
        print(&format!(
            "restored as of {taken_at}; {again} customers erased again\n\
             Numbers and letters that may have been given out since are left out: packs and notices go on after a full hundred, \
             revisions a round of letters later (C becomes AC). The first pack of a kit that is registered from now on is 101 or a later \
             hundred and one. Make a design that was lost again under another id.\n"
        ))?;
        report(&found)
    })
}
