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
    /// Text with a character that no database column takes.
    #[error("text must not hold the character U+0000")]
    NulInText,
    /// Others write, and this one waited in vain.
    #[error("the database is busy: {0}")]
    Busy(#[source] sqlx::Error),
    /// The address of a database is none.
    #[error("the database address must begin with postgres:// or postgresql://")]
    NotPostgres,
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

/// SQLSTATE of a serialisation failure, a deadlock and a lock not got in time; result code of SQLite for the last.
const BUSY: [&str; 4] = ["40001", "40P01", "55P03", "5"];

impl From<sqlx::Error> for StoreError {
    fn from(error: sqlx::Error) -> Self {
        match &error {
            sqlx::Error::PoolTimedOut => return Self::Busy(error),
            sqlx::Error::Database(database) => {
                if database.is_unique_violation() {
                    return Self::Duplicate;
                }
                if database.is_foreign_key_violation() {
                    return Self::Dangling;
                }
                if database.code().is_some_and(|code| BUSY.contains(&&*code)) {
                    return Self::Busy(error);
                }
            }
            _ => {}
        }
        Self::Database(error)
    }
}
