//! Bearer tokens, by the hash of what the caller shows.

use super::{Conn, StoreError, sql};
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
    sql("INSERT INTO tokens (id, sha256, role, kit, created_at) VALUES ($1, $2, $3, $4, $5)")
        .bind(&row.id)
        .bind(&row.sha256)
        .bind(&row.role)
        .bind(&row.kit)
        .bind(&row.created_at)
        .execute(conn)
        .await
}

/// The token with this hash.
pub async fn find(conn: &mut Conn, sha256: &str) -> Result<Option<TokenRow>, StoreError> {
    sql("SELECT id, sha256, role, kit, created_at FROM tokens WHERE sha256 = $1").bind(sha256).optional(conn).await
}

/// Ends all tokens of a kit that were got by its access code.
pub async fn revoke_signed_in(conn: &mut Conn, kit: &str, at: &str) -> Result<(), StoreError> {
    sql("UPDATE tokens SET revoked_at = $2 WHERE kit = $1 AND via = 'access-code' AND revoked_at IS NULL")
        .bind(kit)
        .bind(at)
        .execute(conn)
        .await
}

/// Whether there is any token yet.
pub async fn any(conn: &mut Conn) -> Result<bool, StoreError> {
    let count: i64 = sql("SELECT COUNT(*) FROM tokens").one_value(conn).await?;
    Ok(count > 0)
}
