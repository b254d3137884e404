//! Who fetched which pack when.

use super::{Conn, StoreError, sql};
use sqlx::FromRow;

/// One download of a pack.
#[derive(Debug, Clone)]
pub struct DownloadRow {
    pub kit: String,
    pub number: i64,
    /// Id of the token that fetched it.
    pub token: String,
    pub at: String,
}

/// Adds a download.
pub async fn insert(conn: &mut Conn, row: &DownloadRow) -> Result<(), StoreError> {
    sql("INSERT INTO downloads (kit, number, token, at) VALUES ($1, $2, $3, $4)")
        .bind(&row.kit)
        .bind(row.number)
        .bind(&row.token)
        .bind(&row.at)
        .execute(conn)
        .await
}

/// How often a pack was fetched.
pub async fn count(conn: &mut Conn, kit: &str, number: i64) -> Result<i64, StoreError> {
    sql("SELECT COUNT(*) FROM downloads WHERE kit = $1 AND number = $2").bind(kit).bind(number).one_value(conn).await
}

/// A download as kept.
#[derive(Debug, FromRow)]
pub struct FetchedRow {
    pub number: i64,
    pub token: String,
    pub at: String,
}

/// The last downloads of a kit's packs, newest first.
pub async fn last(conn: &mut Conn, kit: &str, limit: i64) -> Result<Vec<FetchedRow>, StoreError> {
    sql("SELECT number, token, at FROM downloads WHERE kit = $1 ORDER BY at DESC, number DESC LIMIT $2")
        .bind(kit)
        .bind(limit)
        .all(conn)
        .await
}
