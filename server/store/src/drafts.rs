//! Drafts as they were saved, one below the other: the newest is the draft.

use super::row::row;
use super::{Conn, StoreError};
use sqlx_macros::FromRow;

row! {
    /// A save as kept.
    #[derive(Debug, FromRow)]
    pub struct SaveRow of "draft_saves", insert {
        pub number: i64,
        pub body: String,
        pub sha256: String,
        pub saved_at: String,
        pub saved_by: String,
        /// `save 3` or `revision B` when it was restored, else empty.
        pub source: String,
    }
}

row! {
    /// A save without its body.
    #[derive(Debug, FromRow)]
    pub struct SaveFacts of "draft_saves" {
        pub number: i64,
        pub sha256: String,
        pub saved_at: String,
        pub saved_by: String,
        pub source: String,
    }
}

/// The draft of a design.
pub async fn newest(conn: &mut Conn, design: &str) -> Result<Option<SaveRow>, StoreError> {
    SaveRow::select("WHERE design = $1 ORDER BY number DESC LIMIT 1").bind(design).optional(conn).await
}

/// One save.
pub async fn find(conn: &mut Conn, design: &str, number: i64) -> Result<Option<SaveRow>, StoreError> {
    SaveRow::select("WHERE design = $1 AND number = $2").bind(design).bind(number).optional(conn).await
}

/// Saves from the one before `before`, newest first.
pub async fn list(conn: &mut Conn, design: &str, before: i64, limit: i64) -> Result<Vec<SaveFacts>, StoreError> {
    SaveFacts::select("WHERE design = $1 AND number < $2 ORDER BY number DESC LIMIT $3")
        .bind(design)
        .bind(before)
        .bind(limit)
        .all(conn)
        .await
}

/// Adds a save.
pub async fn insert(conn: &mut Conn, design: &str, row: &SaveRow) -> Result<(), StoreError> {
    row.insert(&[("design", design.into())]).execute(conn).await
}
