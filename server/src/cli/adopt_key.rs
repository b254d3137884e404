//! `matchmark adopt-key`

use super::{Failure, key, print};
use crate::config::{Config, Given, Secret, Sources};
use matchmark_service::adopt_keys;
use matchmark_store::Store;
use matchmark_store::clock::SystemClock;
use std::process::ExitCode;
use tokio::runtime::Runtime;

/// Puts the keys that the settings name in force, in place of those that the service signed with so far.
pub fn run(given: &Given) -> Result<ExitCode, Failure> {
    let kept = Config::from_sources(&Sources::gather(given)?)?.kept;
    key::must_be_there(&kept)?;
    let keys = key::public(&kept, false)?;
    let changed = Runtime::new()?.block_on(async {
        let store = Store::beside(&kept.data, kept.database.as_ref().map(Secret::reveal), &kept.blobs).await?;
        let changed = adopt_keys(&store, &SystemClock, &keys).await?;
        store.close().await;
        Ok::<_, Failure>(changed)
    })?;
    let changed =
        if changed.is_empty() { "nothing, both were already in force".to_owned() } else { changed.join(" and ") };
    print(&format!("pages {}\nstatus {}\nin force from now on: {changed}\n", keys.pages, keys.status))?;
    Ok(ExitCode::SUCCESS)
}
