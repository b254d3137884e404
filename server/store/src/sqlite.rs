//! SQLite: one file, one process, one connection that writes.

use super::conn::is_reusable;
use super::database::Database;
use super::{Conn, StoreError, before_upgrade, private, sql};
use sqlx::Sqlite;
use sqlx::migrate::Migrator;
use sqlx::pool::PoolConnection;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePool, SqlitePoolOptions, SqliteSynchronous};
use std::fs::File;
use std::path::Path;
use std::time::Duration;

pub static MIGRATIONS: Migrator = sqlx_macros::migrate!("../../migrations/sqlite");

/// Takes the lock at once: a read that wants to write later could be refused half-way.
pub const BEGIN: &str = "BEGIN IMMEDIATE";

const READERS: u32 = 8;

/// Name of the file in the data directory.
pub const FILE: &str = "matchmark.db";

/// Opens the database in the directory, which must exist.
pub async fn open(directory: &Path) -> Result<Database, StoreError> {
    let lock = lock(directory)?;
    private::file(&directory.join(FILE)).map_err(StoreError::Directory)?;
    let options = SqliteConnectOptions::new()
        .filename(directory.join(FILE))
        .create_if_missing(true)
        .journal_mode(SqliteJournalMode::Wal)
        .synchronous(SqliteSynchronous::Full)
        .foreign_keys(true)
        .busy_timeout(Duration::from_secs(5))
        // What is deleted or overwritten is gone from the file as well.
        .pragma("secure_delete", "on")
        .pragma("trusted_schema", "off");
    let writer = SqlitePoolOptions::new()
        .max_connections(1)
        .test_before_acquire(false)
        .after_release(is_reusable)
        .connect_with(options.clone())
        .await?;
    before_upgrade::keep(&writer, directory).await?;
    MIGRATIONS.run(&writer).await?;
    let readers = SqlitePoolOptions::new()
        .max_connections(READERS)
        .test_before_acquire(false)
        .connect_with(options.pragma("query_only", "on"))
        .await?;
    Ok(Database::Sqlite { writer, readers, copies: directory.join(before_upgrade::FOLDER), _lock: Some(lock) })
}

/// A connection beside whoever works on the file, which must exist.
pub async fn beside(file: &Path) -> Result<PoolConnection<Sqlite>, StoreError> {
    Ok(one_beside(file).await?.acquire().await?)
}

/// A database beside whoever works on the file, which must exist.
pub async fn pool_beside(file: &Path) -> Result<Database, StoreError> {
    let copies = file.with_file_name(before_upgrade::FOLDER);
    Ok(Database::Sqlite { writer: one_beside(file).await?, readers: one_beside(file).await?, copies, _lock: None })
}

async fn one_beside(file: &Path) -> Result<SqlitePool, StoreError> {
    if !file.exists() {
        return Err(StoreError::NoDatabase(file.to_owned()));
    }
    let options = SqliteConnectOptions::new()
        .filename(file)
        .synchronous(SqliteSynchronous::Full)
        .busy_timeout(Duration::from_secs(5))
        .pragma("trusted_schema", "off");
    Ok(SqlitePoolOptions::new().max_connections(1).connect_with(options).await?)
}

/// What the database's own checks find wrong.
pub async fn damage(conn: &mut Conn) -> Result<Vec<String>, StoreError> {
    let found: Vec<(String,)> = sql("SELECT integrity_check FROM pragma_integrity_check").all(conn).await?;
    let dangling: Vec<(String,)> = sql("SELECT DISTINCT \"table\" FROM pragma_foreign_key_check").all(conn).await?;
    let found = found.into_iter().map(|(text,)| text).filter(|text| text != "ok");
    let dangling = dangling.into_iter().map(|(table,)| format!("a row of table {table} refers to one that is missing"));
    Ok(found.chain(dangling).collect())
}

/// How often and how soon the log is tried again to be emptied while somebody reads.
const FORGET_TRIES: usize = 50;
const FORGET_AGAIN: Duration = Duration::from_millis(100);

/// Empties the write-ahead log, which still holds pages as they were before the last writes.
pub async fn forget(writer: &SqlitePool) -> Result<(), StoreError> {
    for _ in 0..FORGET_TRIES {
        let busy: i64 = sqlx::query_scalar("PRAGMA wal_checkpoint(TRUNCATE)").fetch_one(writer).await?;
        if busy == 0 {
            return Ok(());
        }
        tokio::time::sleep(FORGET_AGAIN).await;
    }
    Err(StoreError::NotForgotten)
}

fn lock(directory: &Path) -> Result<File, StoreError> {
    let file = File::create(directory.join("lock")).map_err(StoreError::Directory)?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(std::fs::TryLockError::WouldBlock) => Err(StoreError::InUse),
        Err(std::fs::TryLockError::Error(error)) => Err(StoreError::Directory(error)),
    }
}
