//! Public keys that the service signed with: added, never changed.

use super::{Conn, StoreError, sql};

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

/// The keys of a purpose, the one in force first.
pub async fn list(conn: &mut Conn, purpose: Purpose) -> Result<Vec<String>, StoreError> {
    let rows: Vec<(String,)> = sql("SELECT public_key FROM signing_keys WHERE purpose = $1 ORDER BY number DESC")
        .bind(purpose.name())
        .all(conn)
        .await?;
    Ok(rows.into_iter().map(|(key,)| key).collect())
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
        Some(in_force) if in_force != public_key => {
            Err(StoreError::OtherKey { purpose: purpose.name(), at_hand: short(public_key), in_force: short(in_force) })
        }
        _ => Ok(()),
    }
}

/// So much of a key as tells it from others.
fn short(public_key: &str) -> String {
    public_key.get(..16).unwrap_or(public_key).to_owned()
}
