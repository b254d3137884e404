//! A database seen whole, beside whoever works on it.

use super::conn::Conn;
use super::{StoreError, postgres, probe, record, sql, sqlite};
use sqlx::migrate::Migrator;
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
    let known: Vec<i64> = steps(&conn).iter().map(|step| step.version).collect();
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

/// What the engine itself finds wrong with its files, and what is not as this program made it: the steps of the schema, and what
/// the hashes of rows are mixed with.
pub async fn damage(conn: &mut Conn) -> Result<Vec<String>, StoreError> {
    let mut faults = match conn {
        Conn::SqliteReader(_) | Conn::SqliteWriter(_) => sqlite::damage(conn).await?,
        // Its pages have checksums of their own.
        Conn::PostgresReader(_) | Conn::PostgresWriter(_) => Vec::new(),
    };
    let steps = steps(conn);
    for (version, description, is_whole, checksum) in probe::steps(conn).await? {
        let is_as_made = steps.iter().any(|step| {
            (step.version, &*step.description, &*step.checksum) == (version, &*description, checksum.as_slice())
        });
        if !is_as_made || !is_whole {
            faults.push(format!("step {version} of the schema is not recorded as it was applied"));
        }
    }
    faults.extend(record::strange_salts(conn).await?);
    Ok(faults)
}

/// The steps of the schema that this program knows.
fn steps(conn: &Conn) -> &'static Migrator {
    match conn {
        Conn::PostgresReader(_) | Conn::PostgresWriter(_) => &postgres::MIGRATIONS,
        Conn::SqliteReader(_) | Conn::SqliteWriter(_) => &sqlite::MIGRATIONS,
    }
}
