//! Failed sign-ins, counted by address.

use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

/// Failures that still count.
#[derive(Debug, FromRow)]
pub struct FailuresRow {
    pub count: i64,
    /// When the first of them was.
    pub since: String,
}

/// Forgets all failures from before this time.
pub async fn forget(conn: &mut Conn, before: &str) -> Result<(), StoreError> {
    sql("DELETE FROM sign_in_failures WHERE since < $1").bind(before).execute(conn).await
}

/// The failures of an address.
pub async fn failures(conn: &mut Conn, subject: &str) -> Result<Option<FailuresRow>, StoreError> {
    sql("SELECT count, since FROM sign_in_failures WHERE subject = $1").bind(subject).optional(conn).await
}

/// Counts one more.
pub async fn add(conn: &mut Conn, subject: &str, at: &str) -> Result<(), StoreError> {
    sql("INSERT INTO sign_in_failures (subject, count, since) VALUES ($1, 1, $2) \
         ON CONFLICT (subject) DO UPDATE SET count = sign_in_failures.count + 1")
    .bind(subject)
    .bind(at)
    .execute(conn)
    .await
}
