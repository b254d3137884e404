//! Drafts as they were saved, one below the other: the newest is the draft.

use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

/// A save as kept.
#[derive(Debug, FromRow)]
pub struct SaveRow {
    pub number: i64,
    pub body: String,
    pub sha256: String,
    pub saved_at: String,
    pub saved_by: String,
    /// `save 3` or `revision B` when it was restored, else empty.
    pub source: String,
}

/// A save without its body.
#[derive(Debug, FromRow)]
pub struct SaveFacts {
    pub number: i64,
    pub sha256: String,
    pub saved_at: String,
    pub saved_by: String,
    pub source: String,
}

/// The draft of a design.
pub async fn newest(conn: &mut Conn, design: &str) -> Result<Option<SaveRow>, StoreError> {
    sql("SELECT number, body, sha256, saved_at, saved_by, source FROM draft_saves \
         WHERE design = $1 ORDER BY number DESC LIMIT 1")
    .bind(design)
    .optional(conn)
    .await
}

/// One save.
pub async fn find(conn: &mut Conn, design: &str, number: i64) -> Result<Option<SaveRow>, StoreError> {
    sql("SELECT number, body, sha256, saved_at, saved_by, source FROM draft_saves WHERE design = $1 AND number = $2")
        .bind(design)
        .bind(number)
        .optional(conn)
        .await
}

/// Saves from the one before `before`, newest first.
pub async fn list(conn: &mut Conn, design: &str, before: i64, limit: i64) -> Result<Vec<SaveFacts>, StoreError> {
    sql("SELECT number, sha256, saved_at, saved_by, source FROM draft_saves \
         WHERE design = $1 AND number < $2 ORDER BY number DESC LIMIT $3")
    .bind(design)
    .bind(before)
    .bind(limit)
    .all(conn)
    .await
}

/// Adds a save.
pub async fn insert(conn: &mut Conn, design: &str, row: &SaveRow) -> Result<(), StoreError> {
    sql("INSERT INTO draft_saves (design, number, body, sha256, saved_at, saved_by, source) \
         VALUES ($1, $2, $3, $4, $5, $6, $7)")
    .bind(design)
    .bind(row.number)
    .bind(&row.body)
    .bind(&row.sha256)
    .bind(&row.saved_at)
    .bind(&row.saved_by)
    .bind(&row.source)
    .execute(conn)
    .await
}
