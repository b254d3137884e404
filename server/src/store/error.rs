//! What can go wrong with what is kept.

use std::io;

/// A store that could not do what was asked of it. A missing row is no error but `None`.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// A row with this key is there already.
    #[error("a row with this key is there already")]
    Duplicate,
    /// A row that is referred to does not exist.
    #[error("a row that is referred to does not exist")]
    Dangling,
    /// Another process works on the data directory.
    #[error("another matchmark process uses this data directory; stop it or name another directory with --data")]
    InUse,
    /// The data directory could not be used.
    #[error("the data directory cannot be used: {0}")]
    Directory(#[source] io::Error),
    /// A stored pack is missing or not what its record says.
    #[error("the stored pack {0} is missing or damaged")]
    Damaged(String),
    /// A stored value that this version does not know.
    #[error("table {table} holds an unknown {column}: {value}")]
    Inconsistent {
        /// Table.
        table: &'static str,
        /// Column.
        column: &'static str,
        /// What was found.
        value: String,
    },
    /// The schema could not be brought up to date.
    #[error("the database schema could not be brought up to date: {0}")]
    Migration(#[from] sqlx::migrate::MigrateError),
    /// The database refused or failed.
    #[error("the database failed: {0}")]
    Database(#[source] sqlx::Error),
}

impl From<sqlx::Error> for StoreError {
    fn from(error: sqlx::Error) -> Self {
        match error.as_database_error() {
            Some(database) if database.is_unique_violation() => Self::Duplicate,
            Some(database) if database.is_foreign_key_violation() => Self::Dangling,
            _ => Self::Database(error),
        }
    }
}
