//! Issued packs: inserted once, then only read.

use super::{Conn, StoreError, sql};
use sqlx::FromRow;

/// A pack as kept; its bytes lie in the blobs.
#[derive(Debug, FromRow)]
pub struct PackRow {
    pub kit: String,
    pub number: i64,
    pub design: String,
    pub revision: String,
    pub paper: String,
    pub sha256: String,
    pub size: i64,
    /// Version of the engine that drew it.
    pub engine: String,
    pub issued_at: String,
    pub issued_by: String,
}

/// Adds a pack whose bytes are kept already.
pub async fn insert(conn: &mut Conn, row: &PackRow) -> Result<(), StoreError> {
    sql("INSERT INTO packs (kit, number, design, revision, paper, sha256, size, engine, issued_at, issued_by) \
         VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)")
    .bind(&row.kit)
    .bind(row.number)
    .bind(&row.design)
    .bind(&row.revision)
    .bind(&row.paper)
    .bind(&row.sha256)
    .bind(row.size)
    .bind(&row.engine)
    .bind(&row.issued_at)
    .bind(&row.issued_by)
    .execute(conn)
    .await
}

/// All packs of a kit, oldest first.
pub async fn list(conn: &mut Conn, kit: &str) -> Result<Vec<PackRow>, StoreError> {
    sql("SELECT kit, number, design, revision, paper, sha256, size, engine, issued_at, issued_by \
         FROM packs WHERE kit = $1 ORDER BY number")
    .bind(kit)
    .all(conn)
    .await
}

/// One pack of a kit.
pub async fn find(conn: &mut Conn, kit: &str, number: i64) -> Result<Option<PackRow>, StoreError> {
    sql("SELECT kit, number, design, revision, paper, sha256, size, engine, issued_at, issued_by \
         FROM packs WHERE kit = $1 AND number = $2")
    .bind(kit)
    .bind(number)
    .optional(conn)
    .await
}

/// The number that the next pack of a kit gets.
pub async fn next_number(conn: &mut Conn, kit: &str) -> Result<i64, StoreError> {
    sql("SELECT COALESCE(MAX(number), 0) + 1 FROM packs WHERE kit = $1").bind(kit).one_value(conn).await
}
