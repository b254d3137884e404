//! Where the tables are: a file of SQLite in the data directory, or a database of PostgreSQL that several processes share.

use super::conn::{Conn, Write};
use super::postgres::ServerReach;
use super::{StoreError, before_upgrade, postgres, probe, sqlite};
use crate::Pool;
use sqlx::postgres::PgPool;
use sqlx::sqlite::SqlitePool;
use std::fs::File;
use std::path::{Path, PathBuf};

/// Few connections that write and others that read.
pub enum Database {
    Sqlite {
        writer: SqlitePool,
        readers: SqlitePool,
        /// The folder of what was kept before upgrades.
        copies: PathBuf,
        /// Keeps a second process out; none for one that works beside another.
        _lock: Option<File>,
    },
    Postgres {
        writers: PgPool,
        readers: PgPool,
        way: ServerReach,
    },
}

impl Database {
    /// Opens the database at this address, else the one in the directory, and brings its schema up to date.
    pub async fn open(directory: &Path, address: Option<&str>) -> Result<Self, StoreError> {
        match address {
            Some(address) => postgres::open(address).await,
            None => sqlite::open(directory).await,
        }
    }

    /// The same beside whoever works on it; the schema must be that of this version.
    pub async fn beside(directory: &Path, address: Option<&str>) -> Result<Self, StoreError> {
        let database = match address {
            Some(address) => postgres::pools(postgres::options(address)?).await?,
            None => sqlite::pool_beside(&directory.join(sqlite::FILE)).await?,
        };
        let there = probe::schema(&mut database.read().await?).await?;
        if let Some(newer) = there.iter().find(|version| database.schema().all(|known| known != **version)) {
            return Err(StoreError::NewerSchema(*newer));
        }
        let missing = database.schema().find(|version| !there.contains(version));
        match missing {
            Some(missing) => Err(StoreError::SchemaLacks(missing)),
            None => Ok(database),
        }
    }

    /// A connection to read with.
    pub async fn read(&self) -> Result<Conn, StoreError> {
        Ok(match self {
            Self::Sqlite { readers, .. } => Conn::SqliteReader(readers.acquire().await?),
            Self::Postgres { readers, way, .. } => Conn::PostgresReader(way.wait(readers.acquire()).await?),
        })
    }

    /// A write that is alone from its start.
    pub async fn write(&self) -> Result<Write, StoreError> {
        Ok(Write(match self {
            Self::Sqlite { writer, .. } => Conn::SqliteWriter(writer.begin_with(sqlite::BEGIN).await?.into()),
            Self::Postgres { writers, way, .. } => {
                Conn::PostgresWriter(way.wait(writers.begin_with(postgres::BEGIN)).await?.into())
            }
        }))
    }

    /// The versions of the schema that this program works with, in their order.
    pub fn schema(&self) -> impl Iterator<Item = i64> {
        let steps = match self {
            Self::Sqlite { .. } => sqlite::MIGRATIONS.iter(),
            Self::Postgres { .. } => postgres::MIGRATIONS.iter(),
        };
        steps.map(|step| step.version)
    }

    /// Takes what was overwritten or deleted out of the write-ahead log and of the copies of before upgrades; the server of
    /// PostgreSQL sees to its own files.
    pub async fn forget(&self) -> Result<(), StoreError> {
        match self {
            Self::Sqlite { writer, copies, .. } => {
                let forgotten = sqlite::forget(writer).await;
                before_upgrade::forget(copies)?;
                forgotten
            }
            Self::Postgres { .. } => Ok(()),
        }
    }

    /// How the connections are used.
    pub fn pools(&self) -> [Pool; 2] {
        match self {
            Self::Sqlite { writer, readers, .. } => [pool("write", writer), pool("read", readers)],
            Self::Postgres { writers, readers, .. } => [pool("write", writers), pool("read", readers)],
        }
    }

    /// Closes all connections.
    pub async fn close(&self) {
        match self {
            Self::Sqlite { writer, readers, .. } => {
                readers.close().await;
                writer.close().await;
            }
            Self::Postgres { writers, readers, .. } => {
                readers.close().await;
                writers.close().await;
            }
        }
    }
}

fn pool<D: sqlx::Database>(purpose: &'static str, pool: &sqlx::Pool<D>) -> Pool {
    let idle = u64::try_from(pool.num_idle()).unwrap_or(u64::MAX);
    Pool { purpose, open: u64::from(pool.size()), idle }
}

#[cfg(test)]
mod tests {
    use super::*;
    use sqlx::migrate::Migrator;

    #[test]
    fn both_engines_have_the_same_migrations() {
        let list = |migrator: &Migrator| -> Vec<(i64, String)> {
            migrator.iter().map(|step| (step.version, step.description.to_string())).collect()
        };
        assert_eq!(list(&sqlite::MIGRATIONS), list(&postgres::MIGRATIONS));
    }
}
