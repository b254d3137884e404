//! What was answered to a creating call that named a key, so that a repeat gets the same answer.

use super::row::row;
use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

row! {
    /// One answered call.
    #[derive(Debug, FromRow)]
    pub struct AnsweredRow of "idempotency", insert {
        pub token: String,
        pub route: String,
        pub key: String,
        pub request_sha256: String,
        /// The answer as JSON.
        pub response: String,
        pub created_at: String,
    }
}

/// Records an answer; belongs in the transaction of its effect.
pub async fn insert(conn: &mut Conn, row: &AnsweredRow) -> Result<(), StoreError> {
    row.insert(&[]).execute(conn).await
}

/// The answer given before.
pub async fn find(conn: &mut Conn, token: &str, route: &str, key: &str) -> Result<Option<AnsweredRow>, StoreError> {
    AnsweredRow::select("WHERE token = $1 AND route = $2 AND key = $3")
        .bind(token)
        .bind(route)
        .bind(key)
        .optional(conn)
        .await
}

/// Forgets what was answered before this time. A job that is not finished still asks for its own answers.
pub async fn forget(conn: &mut Conn, before: &str) -> Result<(), StoreError> {
    sql("DELETE FROM idempotency WHERE created_at < $1 AND (route NOT LIKE 'pack-jobs/%' \
         OR NOT EXISTS (SELECT 1 FROM pack_jobs WHERE finished_at IS NULL))")
    .bind(before)
    .execute(conn)
    .await
}
