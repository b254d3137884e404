//! How kits came to the revision they have.

use super::row::row;
use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

row! {
    /// A move as kept.
    #[derive(Debug, FromRow)]
    pub struct MoveRow of "kit_moves", insert {
        pub number: i64,
        pub from_revision: String,
        pub to_revision: String,
        pub reason: String,
        pub at: String,
        pub token: String,
    }
}

/// Adds a move and gives the kit its new revision.
pub async fn insert(conn: &mut Conn, kit: &str, row: &MoveRow) -> Result<(), StoreError> {
    row.insert(&[("kit", kit.into())]).execute(conn).await?;
    sql("UPDATE kits SET revision = $2 WHERE serial = $1").bind(kit).bind(&row.to_revision).execute(conn).await
}

/// The moves of a kit, oldest first.
pub async fn list(conn: &mut Conn, kit: &str) -> Result<Vec<MoveRow>, StoreError> {
    MoveRow::select("WHERE kit = $1 ORDER BY number").bind(kit).all(conn).await
}
