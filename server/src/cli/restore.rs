//! `matchmark restore`

use super::backup::kept;
use super::serve::create_private;
use super::verify::{report, report_backup};
use super::{Failure, print};
use crate::clock::SystemClock;
use crate::config::{Config, Given, Secret, Sources};
use crate::service::{erase_again, inspect};
use crate::store::{Store, backup};
use clap::Args;
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

    #[command(flatten)]
    given: Given,
}

/// Checks a backup, restores it, erases again whom it remembers though they were erased since, and looks at all of it.
pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let config = Config::from_sources(&Sources::gather(&options.given)?)?;
    let later = match &options.erasures {
        Some(folder) => backup::names(folder)?,
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
        backup::bring_back(place, config.kept.signing_key.is_some(), &options.from).await?;
        let database = config.kept.database.as_ref().map(Secret::reveal);
        let store = Store::open(&config.kept.data, database, &config.kept.blobs).await?;
        let mut erased = store.erasures().all().await?;
        erased.extend(later);
        let again = erase_again(&store, &SystemClock, &erased).await?;
        let found = inspect(&mut store.read().await?, store.blobs()).await?;
        store.close().await;
        print(&format!("restored; {again} customers erased again\n"))?;
        report(&found)
    })
}
