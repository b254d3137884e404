//! A row that is written to see whether anything can be.

use super::{Conn, StoreError, sql};

/// Writes it.
pub async fn write(conn: &mut Conn, at: &str) -> Result<(), StoreError> {
    sql("UPDATE probe SET at = $1 WHERE one = 1").bind(at).execute(conn).await
}

/// The versions of the schema that were brought in whole, in their order.
pub async fn schema(conn: &mut Conn) -> Result<Vec<i64>, StoreError> {
    let rows: Vec<(i64,)> =
        sql("SELECT version FROM _sqlx_migrations WHERE success ORDER BY version").all(conn).await?;
    Ok(rows.into_iter().map(|(version,)| version).collect())
}
