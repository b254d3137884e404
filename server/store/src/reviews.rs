//! How drafts were frozen for review, thawed and published from it.

use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

/// A step of a review.
#[derive(Debug, FromRow)]
pub struct ReviewRow {
    /// `frozen`, `thawed` or `published`.
    pub step: String,
    /// Number of the save that it is about.
    pub save: i64,
    /// Hash of the canonical document.
    pub document_sha256: String,
    pub at: String,
    pub token: String,
}

/// The last step of a design.
pub async fn last(conn: &mut Conn, design: &str) -> Result<Option<ReviewRow>, StoreError> {
    sql("SELECT step, save, document_sha256, at, token FROM draft_reviews WHERE design = $1 ORDER BY number DESC LIMIT 1")
        .bind(design)
        .optional(conn)
        .await
}

/// Adds a step after all others of its design.
pub async fn insert(conn: &mut Conn, design: &str, row: &ReviewRow) -> Result<(), StoreError> {
    sql("INSERT INTO draft_reviews (design, number, step, save, document_sha256, at, token) \
         SELECT $1, COALESCE(MAX(number), 0) + 1, $2, $3, $4, $5, $6 FROM draft_reviews WHERE design = $1")
    .bind(design)
    .bind(&row.step)
    .bind(row.save)
    .bind(&row.document_sha256)
    .bind(&row.at)
    .bind(&row.token)
    .execute(conn)
    .await
}
