//! How kits came to the revision they have.

use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

/// A move as kept.
#[derive(Debug, FromRow)]
pub struct MoveRow {
    pub number: i64,
    pub from_revision: String,
    pub to_revision: String,
    pub reason: String,
    pub at: String,
    pub token: String,
}

/// Adds a move and gives the kit its new revision.
pub async fn insert(conn: &mut Conn, kit: &str, row: &MoveRow) -> Result<(), StoreError> {
    sql("INSERT INTO kit_moves (kit, number, from_revision, to_revision, reason, at, token) \
         VALUES ($1, $2, $3, $4, $5, $6, $7)")
    .bind(kit)
    .bind(row.number)
    .bind(&row.from_revision)
    .bind(&row.to_revision)
    .bind(&row.reason)
    .bind(&row.at)
    .bind(&row.token)
    .execute(conn)
    .await?;
    sql("UPDATE kits SET revision = $2 WHERE serial = $1").bind(kit).bind(&row.to_revision).execute(conn).await
}

/// The moves of a kit, oldest first.
pub async fn list(conn: &mut Conn, kit: &str) -> Result<Vec<MoveRow>, StoreError> {
    sql("SELECT number, from_revision, to_revision, reason, at, token FROM kit_moves WHERE kit = $1 ORDER BY number")
        .bind(kit)
        .all(conn)
        .await
}
