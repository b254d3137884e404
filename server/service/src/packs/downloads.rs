//! The record of downloads: written by one task that takes all that wait into one transaction, so that a download does not
//! wait for the disk. A power cut may lose the last few milliseconds of these records, and of nothing else.

use crate::rules::lookup::readable_kit;
use crate::{Listed, Page, Principal, Service, ServiceError};
use matchmark_store::downloads::{self, DownloadRow, FetchedRow};
use matchmark_store::{Store, StoreError};
use serde::Serialize;
use std::sync::Arc;
use tokio::sync::{mpsc, oneshot};
use utoipa::ToSchema;

/// A download of a pack: who fetched which when.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct Download {
    /// Number of the pack.
    pub pack: i64,
    /// When, RFC 3339 in UTC.
    pub at: String,
    /// Id of the token that fetched it.
    pub by: String,
    /// `publisher`, `support` or `builder`; absent when the token is not known any more.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub role: Option<String>,
    /// What the owner of the token calls it; absent when it has no name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// How often at that very time, to the millisecond.
    pub times: i64,
}

impl From<FetchedRow> for Download {
    fn from(row: FetchedRow) -> Self {
        let name = row.name.filter(|name| !name.is_empty());
        Self { pack: row.number, at: row.at, by: row.token, role: row.role, name, times: row.times }
    }
}

impl Service {
    /// A page of the downloads of a kit's packs, newest first.
    pub async fn downloads(
        &self,
        who: &Principal,
        serial: &str,
        page: &Page,
    ) -> Result<Listed<Download>, ServiceError> {
        who.may_support()?;
        self.downloads.flush().await;
        let (at, rest) = page.after.split_once('/').unwrap_or_default();
        let (number, token) = rest.split_once('/').unwrap_or_default();
        let limit = i64::try_from(page.limit + 1).unwrap_or(i64::MAX);
        let mut read = self.store.read().await?;
        readable_kit(&mut read, who, serial).await?;
        let rows = downloads::list(&mut read, serial, (at, number.parse().unwrap_or(0), token), limit).await?;
        let views = rows.into_iter().map(Download::from).collect();
        Ok(Listed::cut(views, page.limit, |one: &Download| format!("{}/{}/{}", one.at, one.pack, one.by)))
    }
}

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
