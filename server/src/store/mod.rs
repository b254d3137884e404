//! What is kept: SQL in one file a table group, and the bytes of issued packs as files named by their hash.
//!
//! One connection writes, in transactions that take the lock at once; a pool of others reads. Nothing here knows of HTTP.

pub mod audit;
pub mod blobs;
pub mod designs;
pub mod downloads;
pub mod idempotency;
pub mod kits;
pub mod measurements;
pub mod packs;
pub mod revisions;
pub mod tokens;

mod error;

pub use blobs::Blobs;
pub use error::StoreError;

use sqlx::pool::PoolConnection;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePool, SqlitePoolOptions, SqliteSynchronous};
use sqlx::{Sqlite, SqliteConnection, Transaction};
use std::fs::File;
use std::ops::{Deref, DerefMut};
use std::path::Path;
use std::time::Duration;

/// What the functions of the table groups run on: a reader or a write in progress.
pub type Conn = SqliteConnection;

static MIGRATIONS: sqlx::migrate::Migrator = sqlx::migrate!("../migrations/sqlite");

const READERS: u32 = 8;

/// The data directory: database, blobs and the lock that keeps a second process out.
pub struct Store {
    writer: SqlitePool,
    readers: SqlitePool,
    blobs: Blobs,
    _lock: File,
}

impl Store {
    /// Opens the data directory, which must exist, creates what is missing in it and brings the schema up to date.
    pub async fn open(directory: &Path) -> Result<Self, StoreError> {
        let lock = lock(directory)?;
        let blobs = Blobs::open(&directory.join("blobs"))?;
        let options = SqliteConnectOptions::new()
            .filename(directory.join("matchmark.db"))
            .create_if_missing(true)
            .journal_mode(SqliteJournalMode::Wal)
            .synchronous(SqliteSynchronous::Full)
            .foreign_keys(true)
            .busy_timeout(Duration::from_secs(5))
            .pragma("trusted_schema", "off");
        let writer = SqlitePoolOptions::new()
            .max_connections(1)
            .test_before_acquire(false)
            .connect_with(options.clone())
            .await?;
        MIGRATIONS.run(&writer).await?;
        let readers = SqlitePoolOptions::new()
            .max_connections(READERS)
            .test_before_acquire(false)
            .connect_with(options.pragma("query_only", "on"))
            .await?;
        Ok(Self { writer, readers, blobs, _lock: lock })
    }

    /// A connection to read with.
    pub async fn read(&self) -> Result<PoolConnection<Sqlite>, StoreError> {
        Ok(self.readers.acquire().await?)
    }

    /// A write that holds the lock from its start; dropped without [`Write::commit`], it leaves no trace.
    pub async fn write(&self) -> Result<Write, StoreError> {
        Ok(Write(self.writer.begin_with("BEGIN IMMEDIATE").await?))
    }

    /// The bytes of issued packs.
    pub fn blobs(&self) -> &Blobs {
        &self.blobs
    }

    /// Whether the database takes writes and the blobs have their place.
    pub async fn ready(&self) -> Result<(), StoreError> {
        drop(self.write().await?);
        self.blobs.ready()
    }

    /// Closes all connections, so that nothing is left in the write-ahead log.
    pub async fn close(&self) {
        self.readers.close().await;
        self.writer.close().await;
    }
}

fn lock(directory: &Path) -> Result<File, StoreError> {
    let file = File::create(directory.join("lock")).map_err(StoreError::Directory)?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(std::fs::TryLockError::WouldBlock) => Err(StoreError::InUse),
        Err(std::fs::TryLockError::Error(error)) => Err(StoreError::Directory(error)),
    }
}

/// A transaction of the one writer.
pub struct Write(Transaction<'static, Sqlite>);

impl Write {
    /// Makes it last.
    pub async fn commit(self) -> Result<(), StoreError> {
        Ok(self.0.commit().await?)
    }
}

impl Deref for Write {
    type Target = Conn;
    fn deref(&self) -> &Conn {
        &self.0
    }
}

impl DerefMut for Write {
    fn deref_mut(&mut self) -> &mut Conn {
        &mut self.0
    }
}
