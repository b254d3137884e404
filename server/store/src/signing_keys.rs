//! Public keys that the service signed with: added, perhaps revoked, never changed.

use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

/// What a key signs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Purpose {
    /// Pages of packs.
    Pages,
    /// What is said of designs.
    Status,
}

impl Purpose {
    /// All of them.
    pub const ALL: [Self; 2] = [Self::Pages, Self::Status];

    /// The word for it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Pages => "pages",
            Self::Status => "status",
        }
    }
}

/// A key that was signed with.
#[derive(Debug, Clone, FromRow)]
pub struct KeyRow {
    /// 64 hexadecimal digits.
    pub public_key: String,
    /// When it was revoked.
    pub revoked_at: Option<String>,
}

/// The keys of a purpose, the one in force first.
pub async fn list(conn: &mut Conn, purpose: Purpose) -> Result<Vec<KeyRow>, StoreError> {
    sql("SELECT k.public_key, r.at AS revoked_at FROM signing_keys k \
         LEFT JOIN revoked_keys r ON r.public_key = k.public_key WHERE k.purpose = $1 ORDER BY k.number DESC")
    .bind(purpose.name())
    .all(conn)
    .await
}

/// Revokes a key for good.
pub async fn revoke(conn: &mut Conn, public_key: &str, at: &str, reason: &str) -> Result<(), StoreError> {
    sql("INSERT INTO revoked_keys (public_key, at, reason) VALUES ($1, $2, $3)")
        .bind(public_key)
        .bind(at)
        .bind(reason)
        .execute(conn)
        .await
}

/// Refuses a key that was revoked.
pub async fn must_not_be_revoked(conn: &mut Conn, purpose: Purpose, public_key: &str) -> Result<(), StoreError> {
    let keys = list(conn, purpose).await?;
    match keys.iter().find(|key| key.public_key == public_key && key.revoked_at.is_some()) {
        Some(_) => Err(StoreError::RevokedKey { purpose: purpose.name(), public_key: short(public_key) }),
        None => Ok(()),
    }
}

/// Puts a key in force.
pub async fn insert(conn: &mut Conn, purpose: Purpose, public_key: &str, at: &str) -> Result<(), StoreError> {
    sql("INSERT INTO signing_keys (purpose, number, public_key, at) \
         SELECT $1, COALESCE(MAX(number), 0) + 1, $2, $3 FROM signing_keys WHERE purpose = $1")
    .bind(purpose.name())
    .bind(public_key)
    .bind(at)
    .execute(conn)
    .await
}

/// Refuses a key that is not the one in force; any will do where there is none yet.
pub async fn must_be_in_force(conn: &mut Conn, purpose: Purpose, public_key: &str) -> Result<(), StoreError> {
    match list(conn, purpose).await?.first() {
        Some(in_force) if in_force.public_key != public_key => Err(StoreError::OtherKey {
            purpose: purpose.name(),
            at_hand: short(public_key),
            in_force: short(&in_force.public_key),
        }),
        _ => Ok(()),
    }
}

/// So much of a key as tells it from others.
fn short(public_key: &str) -> String {
    public_key.get(..16).unwrap_or(public_key).to_owned()
}
