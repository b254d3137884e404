//! The record of downloads: written by one task that takes all that wait into one transaction, so that a download does not
//! wait for the disk. A power cut may lose the last few milliseconds of these records, and of nothing else.

use crate::store::downloads::{self, DownloadRow};
use crate::store::{Store, StoreError};
use std::sync::Arc;
use tokio::sync::{mpsc, oneshot};

const WAITING: usize = 1024;

/// Hands downloads to the task that records them.
pub struct DownloadLog(mpsc::Sender<Message>);

enum Message {
    Row(DownloadRow),
    Flush(oneshot::Sender<()>),
}

impl DownloadLog {
    /// Starts the task; it ends when this end is dropped.
    pub fn start(store: Arc<Store>) -> Self {
        let (sender, receiver) = mpsc::channel(WAITING);
        tokio::spawn(record(store, receiver));
        Self(sender)
    }

    /// Records a download soon.
    pub async fn add(&self, row: DownloadRow) {
        // The task ends only with the process, so there is nobody left to tell.
        let _ = self.0.send(Message::Row(row)).await;
    }

    /// Returns when all downloads handed over before are recorded.
    pub async fn flush(&self) {
        let (done, wait) = oneshot::channel();
        if self.0.send(Message::Flush(done)).await.is_ok() {
            let _ = wait.await;
        }
    }
}

async fn record(store: Arc<Store>, mut receiver: mpsc::Receiver<Message>) {
    let mut batch = Vec::with_capacity(WAITING);
    while receiver.recv_many(&mut batch, WAITING).await > 0 {
        let (mut rows, mut waiting) = (Vec::new(), Vec::new());
        for message in batch.drain(..) {
            match message {
                Message::Row(row) => rows.push(row),
                Message::Flush(done) => waiting.push(done),
            }
        }
        if let Err(error) = write(&store, &rows).await {
            tracing::error!(%error, count = rows.len(), "downloads could not be recorded");
        }
        for done in waiting {
            let _ = done.send(());
        }
    }
}

async fn write(store: &Store, rows: &[DownloadRow]) -> Result<(), StoreError> {
    if rows.is_empty() {
        return Ok(());
    }
    let mut write = store.write().await?;
    for row in rows {
        downloads::insert(&mut write, row).await?;
    }
    write.commit().await
}
