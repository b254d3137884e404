//! A database seen whole, beside whoever works on it.

use super::conn::Conn;
use super::{StoreError, postgres, probe, sql, sqlite};
use std::path::Path;

/// A connection to look with; it keeps nobody from writing. On PostgreSQL it sees the database as it is now, whatever is
/// written meanwhile; on SQLite from [`hold`] on.
pub async fn open(directory: &Path, address: Option<&str>) -> Result<Conn, StoreError> {
    open_since(directory, address, None).await
}

/// The same of a database that an earlier version left, when it has this step of the schema at least; without one it must have all.
pub async fn open_since(directory: &Path, address: Option<&str>, step: Option<i64>) -> Result<Conn, StoreError> {
    let mut conn = match address {
        Some(address) => postgres::snapshot(address).await?,
        None => Conn::SqliteReader(sqlite::beside(&directory.join(sqlite::FILE)).await?),
    };
    let steps = match &conn {
        Conn::PostgresReader(_) | Conn::PostgresWriter(_) => postgres::MIGRATIONS.iter(),
        Conn::SqliteReader(_) | Conn::SqliteWriter(_) => sqlite::MIGRATIONS.iter(),
    };
    let known: Vec<i64> = steps.map(|step| step.version).collect();
    let there = probe::schema(&mut conn).await?;
    if let Some(newer) = there.iter().find(|version| !known.contains(version)) {
        return Err(StoreError::NewerSchema(*newer));
    }
    let is_needed = |version: &&i64| step.is_none_or(|step| **version <= step) && !there.contains(version);
    match known.iter().find(is_needed) {
        Some(missing) => Err(StoreError::SchemaLacks(*missing)),
        None => Ok(conn),
    }
}

/// Sees the same from here on, whatever is written meanwhile.
pub async fn hold(conn: &mut Conn) -> Result<(), StoreError> {
    match conn {
        Conn::SqliteReader(_) => sql("BEGIN").execute(conn).await,
        Conn::SqliteWriter(_) | Conn::PostgresReader(_) | Conn::PostgresWriter(_) => Ok(()),
    }
}

/// What the engine itself finds wrong with its files.
pub async fn damage(conn: &mut Conn) -> Result<Vec<String>, StoreError> {
    match conn {
        Conn::SqliteReader(_) | Conn::SqliteWriter(_) => sqlite::damage(conn).await,
        // Its pages have checksums of their own.
        Conn::PostgresReader(_) | Conn::PostgresWriter(_) => Ok(Vec::new()),
    }
}
