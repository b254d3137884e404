//! Whom the supplier's customers are to ask: added, never changed; the newest counts.

use super::row::row;
use super::{Conn, StoreError};
use sqlx_macros::FromRow;

row! {
    /// What was said of it.
    #[derive(Debug, FromRow)]
    pub struct ContactRow of "supplier_contacts", insert {
        pub number: i64,
        pub text: String,
        pub at: String,
        /// Id of the token that said so; `system` where it came from the settings.
        pub token: String,
    }
}

/// What counts now.
pub async fn newest(conn: &mut Conn) -> Result<Option<ContactRow>, StoreError> {
    ContactRow::select("ORDER BY number DESC LIMIT 1").optional(conn).await
}

/// Adds one.
pub async fn insert(conn: &mut Conn, row: &ContactRow) -> Result<(), StoreError> {
    row.insert(&[]).execute(conn).await
}
