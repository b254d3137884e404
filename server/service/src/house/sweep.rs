//! Removes what crashes left among the blobs, and answers that nobody asks for again, at the start and then once a day.

use crate::rules::events::EVENTS_LAST;
use crate::{Service, ServiceError};
use matchmark_store::{deliveries, events, idempotency};
use std::sync::Arc;
use std::time::Duration;

/// What is younger may be on its way into the records.
pub const ORPHANS_STAY: time::Duration = time::Duration::hours(24);

/// How long an Idempotency-Key is good.
const KEYS_LAST: time::Duration = time::Duration::hours(72);

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
            if let Err(error) = self.make_void_what_is_left().await {
                self.note(&error);
                tracing::warn!(%error, "the numbers of interrupted packs are made void later");
            }
            if let Err(error) = self.forget_answers().await {
                self.note(&error);
                tracing::warn!(%error, "old idempotency records stay until tomorrow");
            }
            if let Err(error) = self.forget_events().await {
                self.note(&error);
                tracing::warn!(%error, "old events stay until tomorrow");
            }
            tokio::select! {
                () = tokio::time::sleep(EVERY) => {}
                _ = stopping.changed() => {}
            }
        }
    }

    /// Forgets events that are no longer kept, and what became of posting them.
    async fn forget_events(&self) -> Result<(), ServiceError> {
        let before = self.clock.stamp_in(-EVENTS_LAST);
        let mut write = self.store.write().await?;
        events::forget(&mut write, before.milliseconds()).await?;
        deliveries::forget(&mut write, before.at()).await?;
        Ok(write.commit().await?)
    }

    /// Forgets what was answered to calls whose keys are no longer good.
    async fn forget_answers(&self) -> Result<(), ServiceError> {
        let before = self.clock.stamp_in(-KEYS_LAST);
        let mut write = self.store.write().await?;
        idempotency::forget(&mut write, before.at()).await?;
        Ok(write.commit().await?)
    }
}
