//! What is kept: SQL in one file a table group, and the bytes of issued packs as files named by their hash.
//!
//! Writes are transactions that take the one lock at once; other connections read. Each statement is one text for both engines
//! and each table group's function has one body. Nothing here knows of HTTP.

pub mod audit;
pub mod blobs;
pub mod customers;
pub mod deliveries;
pub mod designs;
pub mod downloads;
pub mod drafts;
pub mod idempotency;
pub mod kits;
pub mod measurements;
pub mod moves;
pub mod notes;
pub mod notices;
pub mod pack_jobs;
pub mod packs;
pub mod revisions;
pub mod sessions;
pub mod sign_in;
pub mod states;
pub mod tokens;

mod conn;
mod database;
mod error;
mod postgres;
mod sql;
mod sqlite;

pub use blobs::Blobs;
pub use conn::{Conn, Write};
pub use error::StoreError;
use sql::sql;

use database::Database;
use std::path::Path;

/// The database and the blobs.
pub struct Store {
    database: Database,
    blobs: Blobs,
}

impl Store {
    /// Opens the data directory, which must exist, and the database: the one at this address of PostgreSQL, else SQLite in the
    /// directory. Creates what is missing and brings the schema up to date.
    pub async fn open(directory: &Path, address: Option<&str>) -> Result<Self, StoreError> {
        let database = Database::open(directory, address).await?;
        let blobs = Blobs::open(&directory.join("blobs"))?;
        Ok(Self { database, blobs })
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

    /// Whether the database takes writes and the blobs have their place.
    pub async fn ready(&self) -> Result<(), StoreError> {
        drop(self.write().await?);
        self.blobs.ready()
    }

    /// Closes all connections, so that nothing is left in a write-ahead log.
    pub async fn close(&self) {
        self.database.close().await;
    }
}
