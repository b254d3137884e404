//! A row that is written to see whether anything can be.

use super::{Conn, StoreError, sql};

/// Writes it.
pub async fn write(conn: &mut Conn, at: &str) -> Result<(), StoreError> {
    sql("UPDATE probe SET at = $1 WHERE one = 1").bind(at).execute(conn).await
}

/// The versions of the schema that were brought in whole, in their order.
pub async fn schema(conn: &mut Conn) -> Result<Vec<i64>, StoreError> {
    let rows = sql("SELECT version FROM _sqlx_migrations WHERE success ORDER BY version").all::<(i64,)>(conn).await;
    match rows {
        Ok(rows) => Ok(rows.into_iter().map(|(version,)| version).collect()),
        Err(StoreError::Database(error)) if lacks_a_table(&error) => Err(StoreError::NothingThere),
        Err(error) => Err(error),
    }
}

/// The steps of the schema as they are noted: version, description, whether it was brought in whole, checksum.
pub async fn steps(conn: &mut Conn) -> Result<Vec<(i64, String, bool, Vec<u8>)>, StoreError> {
    sql("SELECT version, description, success, checksum FROM _sqlx_migrations ORDER BY version").all(conn).await
}

/// True when a table is missing: `undefined_table` of PostgreSQL, which SQLite says in words alone.
fn lacks_a_table(error: &sqlx::Error) -> bool {
    let Some(said) = error.as_database_error() else { return false };
    said.code().as_deref() == Some("42P01") || said.message().starts_with("no such table")
}
