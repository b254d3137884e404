//! SQLite: one file, one process, one connection that writes.

use super::StoreError;
use super::database::Database;
use sqlx::migrate::Migrator;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};
use std::fs::File;
use std::path::Path;
use std::time::Duration;

pub static MIGRATIONS: Migrator = sqlx::migrate!("../migrations/sqlite");

/// Takes the lock at once: a read that wants to write later could be refused half-way.
pub const BEGIN: &str = "BEGIN IMMEDIATE";

const READERS: u32 = 8;

/// Opens the database in the directory, which must exist.
pub async fn open(directory: &Path) -> Result<Database, StoreError> {
    let lock = lock(directory)?;
    let options = SqliteConnectOptions::new()
        .filename(directory.join("matchmark.db"))
        .create_if_missing(true)
        .journal_mode(SqliteJournalMode::Wal)
        .synchronous(SqliteSynchronous::Full)
        .foreign_keys(true)
        .busy_timeout(Duration::from_secs(5))
        .pragma("trusted_schema", "off");
    let writer =
        SqlitePoolOptions::new().max_connections(1).test_before_acquire(false).connect_with(options.clone()).await?;
    MIGRATIONS.run(&writer).await?;
    let readers = SqlitePoolOptions::new()
        .max_connections(READERS)
        .test_before_acquire(false)
        .connect_with(options.pragma("query_only", "on"))
        .await?;
    Ok(Database::Sqlite { writer, readers, _lock: lock })
}

fn lock(directory: &Path) -> Result<File, StoreError> {
    let file = File::create(directory.join("lock")).map_err(StoreError::Directory)?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(std::fs::TryLockError::WouldBlock) => Err(StoreError::InUse),
        Err(std::fs::TryLockError::Error(error)) => Err(StoreError::Directory(error)),
    }
}
