//! Where the tables are: a file of SQLite in the data directory, or a database of PostgreSQL that several processes share.

use super::conn::{Conn, Write};
use super::{StoreError, postgres, sqlite};
use sqlx::postgres::PgPool;
use sqlx::sqlite::SqlitePool;
use std::fs::File;
use std::path::Path;

/// Few connections that write and others that read.
pub enum Database {
    Sqlite {
        writer: SqlitePool,
        readers: SqlitePool,
        /// Keeps a second process out.
        _lock: File,
    },
    Postgres {
        writers: PgPool,
        readers: PgPool,
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

    /// A connection to read with.
    pub async fn read(&self) -> Result<Conn, StoreError> {
        Ok(match self {
            Self::Sqlite { readers, .. } => Conn::SqliteReader(readers.acquire().await?),
            Self::Postgres { readers, .. } => Conn::PostgresReader(readers.acquire().await?),
        })
    }

    /// A write that is alone from its start.
    pub async fn write(&self) -> Result<Write, StoreError> {
        Ok(Write(match self {
            Self::Sqlite { writer, .. } => Conn::SqliteWriter(writer.begin_with(sqlite::BEGIN).await?),
            Self::Postgres { writers, .. } => Conn::PostgresWriter(writers.begin_with(postgres::BEGIN).await?),
        }))
    }

    /// Closes all connections.
    pub async fn close(&self) {
        match self {
            Self::Sqlite { writer, readers, .. } => {
                readers.close().await;
                writer.close().await;
            }
            Self::Postgres { writers, readers } => {
                readers.close().await;
                writers.close().await;
            }
        }
    }
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
