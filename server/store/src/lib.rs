//! What is kept: SQL in one file a table group, and the bytes of issued packs as files named by their hash.
//!
//! Writes are transactions that take the one lock at once; other connections read. Each statement is one text for both engines
//! and each table group's function has one body. Nothing here knows of use cases or of what is served.

// The fields of a row are the columns of its table, which the migrations describe.
#![allow(missing_docs)]

pub mod audit;
pub mod backup;
mod before_upgrade;
pub mod blobs;
pub mod checkpoints;
pub mod clock;
pub mod contacts;
pub mod customers;
pub mod deliveries;
pub mod designs;
pub mod downloads;
pub mod drafts;
pub mod erasures;
pub mod events;
pub mod figures;
pub mod full_scan;
pub mod hash;
pub mod holds;
pub mod idempotency;
pub mod kits;
pub mod measurements;
pub mod moves;
pub mod notes;
pub mod notices;
mod ownership;
pub mod pack_jobs;
pub mod pack_numbers;
pub mod packs;
pub mod probe;
pub mod record;
pub mod restores;
pub mod reviews;
pub mod revisions;
pub mod secret;
pub mod sessions;
pub mod sign_in;
pub mod signing_keys;
pub mod snapshot;
pub mod states;
pub mod sweep;
pub mod tokens;

mod confidential;
mod conn;
mod database;
mod disk;
mod error;
mod objects;
mod pool;
mod postgres;
mod private;
mod row;
mod sql;
mod sqlite;

pub use blobs::Blobs;
pub use confidential::Secret;
pub use conn::{Conn, Write};
pub use erasures::Erasures;
pub use error::{DiskFault, StoreError};
pub use objects::{BlobsAt, Bucket};
pub use pool::Pool;
use sql::sql;

use database::Database;
use objects::Objects;
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;
use std::time::Duration;

/// The database and the blobs.
pub struct Store {
    database: Database,
    objects: Objects,
    blobs: Blobs,
    erasures: Erasures,
    directory: PathBuf,
    /// Whether the place of the blobs was seen to be ours.
    settled: AtomicBool,
}

/// How long a start waits to see whose the place of the blobs is.
const SEEN_WITHIN: Duration = Duration::from_secs(5);

impl Store {
    /// Opens the data directory, which must exist, the database (the one at this address of PostgreSQL, else SQLite in the
    /// directory) and the place of the blobs. Creates what is missing, brings the schema up to date and refuses a place of blobs that
    /// is another database's.
    pub async fn open(directory: &Path, address: Option<&str>, blobs: &BlobsAt, at: &str) -> Result<Self, StoreError> {
        let store = Self::open_restored(directory, address, blobs, at).await?;
        match tokio::time::timeout(SEEN_WITHIN, store.settle(at)).await {
            Ok(Err(error)) if !error.is_of_objects() => Err(error),
            Ok(Ok(())) => Ok(store),
            // It is seen before the first blob is kept.
            Ok(Err(_)) | Err(_) => {
                tracing::warn!("the store of issued packs cannot be reached yet");
                Ok(store)
            }
        }
    }

    /// The same right after a restore, whosever the place of the blobs is.
    pub async fn open_restored(
        directory: &Path,
        address: Option<&str>,
        blobs: &BlobsAt,
        at: &str,
    ) -> Result<Self, StoreError> {
        let database = Database::open(directory, address).await?;
        let objects = Objects::open(blobs, directory)?;
        let store = Self::of(database, objects, directory);
        record::put_on_record(&store, at).await?;
        Ok(store)
    }

    /// The same beside whoever works on it: nothing is created and no schema is brought up to date.
    pub async fn beside(directory: &Path, address: Option<&str>, blobs: &BlobsAt) -> Result<Self, StoreError> {
        let database = Database::beside(directory, address).await?;
        let objects = Objects::open(blobs, directory)?;
        Ok(Self::of(database, objects, directory))
    }

    fn of(database: Database, objects: Objects, directory: &Path) -> Self {
        let (blobs, erasures) = (Blobs::among(objects.clone()), Erasures::among(objects.clone()));
        Self { database, blobs, erasures, objects, directory: directory.to_owned(), settled: AtomicBool::new(false) }
    }

    /// A connection to read with.
    pub async fn read(&self) -> Result<Conn, StoreError> {
        self.database.read().await
    }

    /// A write that is alone among all writes from its start.
    pub async fn write(&self) -> Result<Write, StoreError> {
        self.database.write().await
    }

    /// The bytes of issued packs.
    pub fn blobs(&self) -> &Blobs {
        &self.blobs
    }

    /// Who was erased.
    pub fn erasures(&self) -> &Erasures {
        &self.erasures
    }

    /// Whether the database has the schema of this version and takes a write, the blobs take one too, and the disk with either of
    /// them has so many bytes left.
    pub async fn ready(&self, at: &str, min_free: u64) -> Result<(), StoreError> {
        if let Some(directory) = self.directory() {
            let free = disk::free(directory)?;
            if free < min_free {
                return Err(StoreError::DiskLow { free, least: min_free });
            }
        }
        let mut write = self.write().await?;
        let schema = probe::schema(&mut write).await?;
        if let Some(missing) = self.database.schema().find(|version| !schema.contains(version)) {
            return Err(StoreError::SchemaLacks(missing));
        }
        probe::write(&mut write, at).await?;
        write.commit().await?;
        self.objects.ready().await
    }

    /// The data directory, when something that matters is written to it.
    fn directory(&self) -> Option<&Path> {
        let elsewhere = matches!((&self.database, &self.objects), (Database::Postgres { .. }, Objects::Bucket(_)));
        (!elsewhere).then_some(&self.directory)
    }

    /// Takes what was overwritten or deleted out of the files of the database too, as far as they are ours.
    pub async fn forget(&self) -> Result<(), StoreError> {
        self.database.forget().await
    }

    /// How the connections to the database are used.
    pub fn pools(&self) -> [Pool; 2] {
        self.database.pools()
    }

    /// Closes all connections, so that nothing is left in a write-ahead log.
    pub async fn close(&self) {
        self.database.close().await;
    }
}
