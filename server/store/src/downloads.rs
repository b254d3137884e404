//! Who fetched which pack when.

use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

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

/// Whether a token fetched a pack before.
pub async fn has_any(conn: &mut Conn, kit: &str, number: i64, token: &str) -> Result<bool, StoreError> {
    let count: i64 = sql("SELECT COUNT(*) FROM downloads WHERE kit = $1 AND number = $2 AND token = $3")
        .bind(kit)
        .bind(number)
        .bind(token)
        .one_value(conn)
        .await?;
    Ok(count > 0)
}

/// A download as kept, with whose token fetched it.
#[derive(Debug, FromRow)]
pub struct FetchedRow {
    pub number: i64,
    pub at: String,
    pub token: String,
    /// Role and name of the token; none when it is not known any more.
    pub role: Option<String>,
    pub name: Option<String>,
    /// How often this token fetched it at this time, to the millisecond.
    pub times: i64,
}

/// Downloads of a kit's packs, newest first, from the one before: its time, pack and token; from the newest when the time is empty.
pub async fn list(
    conn: &mut Conn,
    kit: &str,
    before: (&str, i64, &str),
    limit: i64,
) -> Result<Vec<FetchedRow>, StoreError> {
    sql("SELECT downloads.number, downloads.at, downloads.token, tokens.role, tokens.name, COUNT(*) AS times \
         FROM downloads LEFT JOIN tokens ON tokens.id = downloads.token \
         WHERE downloads.kit = $1 AND ($2 = '' OR downloads.at < $2 OR (downloads.at = $2 AND (downloads.number < $3 \
         OR (downloads.number = $3 AND downloads.token < $4)))) \
         GROUP BY downloads.number, downloads.at, downloads.token, tokens.role, tokens.name \
         ORDER BY downloads.at DESC, downloads.number DESC, downloads.token DESC LIMIT $5")
    .bind(kit)
    .bind(before.0)
    .bind(before.1)
    .bind(before.2)
    .bind(limit)
    .all(conn)
    .await
}
