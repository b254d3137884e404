//! Whether the service can take work.

use crate::Service;
use crate::words::Words;
use matchmark_store::StoreError;
use matchmark_store::signing_keys::Purpose;
use std::time::{Duration, Instant};
use tokio::sync::Mutex;

/// How long a good answer stands, so that nobody keeps the disk busy by asking.
const STANDS: Duration = Duration::from_secs(1);

/// How long the answer may take.
const PATIENCE: Duration = Duration::from_secs(5);

/// Why no work is taken.
#[derive(Debug, thiserror::Error)]
pub enum NotReady {
    /// The process was asked to stop.
    #[error("the service is stopping")]
    Stopping,
    /// The store did not answer in time.
    #[error("the store did not accept a write within {} seconds", PATIENCE.as_secs())]
    TooSlow,
    /// Another key was put in force, or this process's own was revoked.
    #[error("the key that this process signs with is no longer in force; restart it with the key in force")]
    OtherKey,
    /// The store failed.
    #[error(transparent)]
    Store(#[from] StoreError),
}

impl NotReady {
    /// What of it strangers may know.
    pub fn said(&self, words: &Words) -> &'static str {
        let says = &words.readiness;
        match self {
            Self::Stopping => says.stopping(),
            Self::OtherKey => says.other_key(),
            Self::Store(StoreError::DiskLow { .. }) => says.disk_low(),
            Self::TooSlow | Self::Store(_) => says.no_write(),
        }
    }
}

/// What is known of it.
#[derive(Default)]
pub struct Readiness {
    last_good: Mutex<Option<Instant>>,
}

impl Service {
    /// Is not ready with less than so many bytes of disk left.
    pub fn needing_free_disk(self, min_free_disk: u64) -> Self {
        Self { min_free_disk, ..self }
    }

    /// Whether it can do its work: database and blobs take a write, there is disk left, and the schema is that of this version.
    pub async fn ready(&self) -> Result<(), NotReady> {
        if *self.stopping.borrow() {
            return Err(NotReady::Stopping);
        }
        let mut last_good = self.readiness.last_good.lock().await;
        if last_good.is_some_and(|good| good.elapsed() < STANDS) {
            return Ok(());
        }
        let probe = self.clock.stamp();
        tokio::time::timeout(PATIENCE, self.store.ready(probe.at(), self.min_free_disk))
            .await
            .map_err(|_| NotReady::TooSlow)??;
        let mut read = self.store.read().await?;
        for purpose in Purpose::ALL {
            self.must_sign(&mut read, purpose).await.map_err(|_| NotReady::OtherKey)?;
        }
        *last_good = Some(Instant::now());
        Ok(())
    }
}
