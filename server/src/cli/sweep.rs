//! `matchmark sweep`

use super::{Failure, print};
use crate::config::{Config, Given, Secret, Sources};
use matchmark_service::ORPHANS_STAY;
use matchmark_store::Store;
use matchmark_store::clock::{Clock, SystemClock};
use std::process::ExitCode;
use tokio::runtime::Runtime;

/// Removes orphaned blobs; the service may go on working.
pub fn run(given: &Given) -> Result<ExitCode, Failure> {
    let kept = Config::from_sources(&Sources::gather(given)?)?.kept;
    let swept = Runtime::new()?.block_on(async {
        let store = Store::beside(&kept.data, kept.database.as_ref().map(Secret::reveal), &kept.blobs).await?;
        let swept = store.sweep(SystemClock.now() - ORPHANS_STAY).await?;
        store.close().await;
        Ok::<_, Failure>(swept)
    })?;
    print(&format!(
        "removed {} orphaned blobs of {} bytes and {} unfinished files\n",
        swept.blobs, swept.bytes, swept.unfinished
    ))?;
    Ok(ExitCode::SUCCESS)
}
