//! Bearer tokens, by the hash of what the caller shows.

use super::{Conn, StoreError};
use sqlx::FromRow;

/// A token as kept: never the token itself.
#[derive(Debug, FromRow)]
pub struct TokenRow {
    pub id: String,
    pub sha256: String,
    pub role: String,
    /// The one kit of a builder.
    pub kit: Option<String>,
    pub created_at: String,
}

/// Adds a token.
pub async fn insert(conn: &mut Conn, row: &TokenRow) -> Result<(), StoreError> {
    sqlx::query("INSERT INTO tokens (id, sha256, role, kit, created_at) VALUES ($1, $2, $3, $4, $5)")
        .bind(&row.id)
        .bind(&row.sha256)
        .bind(&row.role)
        .bind(&row.kit)
        .bind(&row.created_at)
        .execute(conn)
        .await?;
    Ok(())
}

/// The token with this hash.
pub async fn find(conn: &mut Conn, sha256: &str) -> Result<Option<TokenRow>, StoreError> {
    Ok(sqlx::query_as("SELECT id, sha256, role, kit, created_at FROM tokens WHERE sha256 = $1")
        .bind(sha256)
        .fetch_optional(conn)
        .await?)
}

/// Whether there is any token yet.
pub async fn any(conn: &mut Conn) -> Result<bool, StoreError> {
    let count: i64 = sqlx::query_scalar("SELECT COUNT(*) FROM tokens").fetch_one(conn).await?;
    Ok(count > 0)
}
