//! Joins the chains of acts in checkpoints: every few minutes while the service works, with each published revision, and before a
//! backup.

use crate::{Service, ServiceError};
use matchmark_store::clock::Clock;
use matchmark_store::{Store, checkpoints};
use std::sync::Arc;
use std::time::Duration;

const EVERY: Duration = Duration::from_secs(5 * 60);

impl Service {
    /// Joins chains until told to stop.
    pub async fn join_chains(self: Arc<Self>) {
        let mut stopping = self.stopping.subscribe();
        while !*stopping.borrow() {
            if let Err(error) = join_chains(&self.store, &*self.clock).await {
                self.note(&error);
                tracing::warn!(%error, "the checkpoint of the chains is taken later");
            }
            tokio::select! {
                () = tokio::time::sleep(EVERY) => {}
                _ = stopping.changed() => {}
            }
        }
    }
}

/// Joins the chains that have moved since the last checkpoint.
pub async fn join_chains(store: &Store, clock: &dyn Clock) -> Result<(), ServiceError> {
    if !checkpoints::is_due(&mut store.read().await?).await? {
        return Ok(());
    }
    let mut write = store.write().await?;
    checkpoints::join(&mut write, clock.stamp().at()).await?;
    Ok(write.commit().await?)
}
