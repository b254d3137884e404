//! Bearer tokens, by the hash of what the caller shows.

use super::row::row;
use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

row! {
    /// A token as kept: never the token itself.
    #[derive(Debug, FromRow)]
    pub struct TokenRow of "tokens", insert {
        pub id: String,
        pub sha256: String,
        pub role: String,
        /// The one kit of a builder.
        pub kit: Option<String>,
        /// What its owner calls it.
        pub name: String,
        /// `token`, or `access-code` when it was got by signing in.
        pub via: String,
        pub created_at: String,
        pub expires_at: Option<String>,
        pub revoked_at: Option<String>,
        /// Id of the token that it goes back to, by rotation or because its bearer made it; none for one made on the machine.
        pub follows: Option<String>,
        /// 1 for one that only reads.
        pub read_only: i64,
    }
}

/// Adds a token.
pub async fn insert(conn: &mut Conn, row: &TokenRow) -> Result<(), StoreError> {
    row.insert(&[]).execute(conn).await
}

/// The token with this hash.
pub async fn find(conn: &mut Conn, sha256: &str) -> Result<Option<TokenRow>, StoreError> {
    TokenRow::select("WHERE sha256 = $1").bind(sha256).optional(conn).await
}

/// The token with this id.
pub async fn by_id(conn: &mut Conn, id: &str) -> Result<Option<TokenRow>, StoreError> {
    TokenRow::select("WHERE id = $1").bind(id).optional(conn).await
}

/// Whom a token stands for: the one made on the machine that it goes back to. Whoever makes or rotates a token knows it, and so
/// may be the one who uses it.
pub async fn person(conn: &mut Conn, id: &str) -> Result<String, StoreError> {
    let row = by_id(conn, id).await?;
    Ok(row.and_then(|row| row.follows).unwrap_or_else(|| id.to_owned()))
}

/// The person whom tokens made on the machine with this name stand for, large letters or small; `None` when there is none yet.
pub async fn person_of_name(conn: &mut Conn, name: &str) -> Result<Option<String>, StoreError> {
    sql("SELECT id FROM tokens WHERE follows IS NULL AND via = 'token' AND role <> 'builder' \
         AND LOWER(TRIM(name)) = LOWER($1) ORDER BY created_at, id LIMIT 1")
    .bind(name)
    .optional_value(conn)
    .await
}

/// Tokens in order of their id, from the one after `after`.
pub async fn list(conn: &mut Conn, after: &str, limit: i64) -> Result<Vec<TokenRow>, StoreError> {
    TokenRow::select("WHERE id > $1 ORDER BY id LIMIT $2").bind(after).bind(limit).all(conn).await
}

/// Ends a token.
pub async fn revoke(conn: &mut Conn, id: &str, at: &str) -> Result<(), StoreError> {
    sql("UPDATE tokens SET revoked_at = $2 WHERE id = $1 AND revoked_at IS NULL").bind(id).bind(at).execute(conn).await
}

/// How many publisher's tokens that may do all are good at this time.
pub async fn publishers(conn: &mut Conn, at: &str) -> Result<i64, StoreError> {
    sql("SELECT COUNT(*) FROM tokens WHERE role = 'publisher' AND read_only = 0 AND revoked_at IS NULL \
         AND (expires_at IS NULL OR expires_at > $1)")
    .bind(at)
    .one_value(conn)
    .await
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
