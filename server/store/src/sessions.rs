//! Sessions of the pages, by the hash of what the browser shows.

use super::{Conn, StoreError, sql};

/// Begins a session.
pub async fn insert(conn: &mut Conn, sha256: &str, token: &str, at: &str, until: &str) -> Result<(), StoreError> {
    sql("INSERT INTO sessions (sha256, token, created_at, expires_at) VALUES ($1, $2, $3, $4)")
        .bind(sha256)
        .bind(token)
        .bind(at)
        .bind(until)
        .execute(conn)
        .await
}

/// Id of the token of a session that is good at this time.
pub async fn token(conn: &mut Conn, sha256: &str, at: &str) -> Result<Option<String>, StoreError> {
    sql("SELECT token FROM sessions WHERE sha256 = $1 AND expires_at > $2 AND ended_at IS NULL")
        .bind(sha256)
        .bind(at)
        .optional_value(conn)
        .await
}

/// Ends a session.
pub async fn end(conn: &mut Conn, sha256: &str, at: &str) -> Result<(), StoreError> {
    sql("UPDATE sessions SET ended_at = $2 WHERE sha256 = $1 AND ended_at IS NULL")
        .bind(sha256)
        .bind(at)
        .execute(conn)
        .await
}

/// Forgets sessions that expired before this time.
pub async fn forget(conn: &mut Conn, before: &str) -> Result<(), StoreError> {
    sql("DELETE FROM sessions WHERE expires_at < $1").bind(before).execute(conn).await
}
