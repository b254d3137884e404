//! Holds on kits.

use super::row::row;
use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

row! {
    /// A hold as kept; its reasons are empty once the customer was erased.
    #[derive(Debug, FromRow)]
    pub struct HoldRow of "kit_holds", insert {
        pub number: i64,
        pub reason: String,
        pub ask: String,
        pub at: String,
        pub token: String,
        pub lifted_at: Option<String>,
        pub lifted_by: Option<String>,
        pub lift_reason: String,
    }
}

/// Adds a hold, with a number after all others of its kit.
pub async fn insert(conn: &mut Conn, kit: &str, row: &HoldRow) -> Result<(), StoreError> {
    row.insert(&[("kit", kit.into())]).execute(conn).await
}

/// Lifts the hold that stands.
pub async fn lift(conn: &mut Conn, kit: &str, at: &str, by: &str, reason: &str) -> Result<(), StoreError> {
    sql("UPDATE kit_holds SET lifted_at = $2, lifted_by = $3, lift_reason = $4 WHERE kit = $1 AND lifted_at IS NULL")
        .bind(kit)
        .bind(at)
        .bind(by)
        .bind(reason)
        .execute(conn)
        .await
}

/// The hold on a kit that stands.
pub async fn standing(conn: &mut Conn, kit: &str) -> Result<Option<HoldRow>, StoreError> {
    Ok(list(conn, kit).await?.into_iter().find(|hold| hold.lifted_at.is_none()))
}

/// The holds of a kit, oldest first.
pub async fn list(conn: &mut Conn, kit: &str) -> Result<Vec<HoldRow>, StoreError> {
    HoldRow::select("WHERE kit = $1 ORDER BY number").bind(kit).all(conn).await
}
