//! Removes what crashes left among the blobs, at the start and then once a day.

use super::Service;
use std::sync::Arc;
use std::time::Duration;

/// What is younger may be on its way into the records.
pub const ORPHANS_STAY: time::Duration = time::Duration::hours(24);

const EVERY: Duration = Duration::from_secs(24 * 60 * 60);

impl Service {
    /// Sweeps until told to stop.
    pub async fn sweep(self: Arc<Self>) {
        let mut stopping = self.stopping.subscribe();
        while !*stopping.borrow() {
            match self.store.sweep(self.clock.now() - ORPHANS_STAY).await {
                Ok(swept) if swept.blobs + swept.unfinished > 0 => {
                    let (blobs, bytes, unfinished) = (swept.blobs, swept.bytes, swept.unfinished);
                    tracing::info!(blobs, bytes, unfinished, "orphaned blobs removed");
                }
                Ok(_) => {}
                Err(error) => tracing::warn!(%error, "orphaned blobs stay until tomorrow"),
            }
            tokio::select! {
                () = tokio::time::sleep(EVERY) => {}
                _ = stopping.changed() => {}
            }
        }
    }
}
