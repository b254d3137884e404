//! Whom the supplier's customers are to ask: added, never changed; the newest counts.

use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

/// What was said of it.
#[derive(Debug, FromRow)]
pub struct ContactRow {
    pub number: i64,
    pub text: String,
    pub at: String,
    /// Id of the token that said so; `system` where it came from the settings.
    pub token: String,
}

/// What counts now.
pub async fn newest(conn: &mut Conn) -> Result<Option<ContactRow>, StoreError> {
    sql("SELECT number, text, at, token FROM supplier_contacts ORDER BY number DESC LIMIT 1").optional(conn).await
}

/// Adds one.
pub async fn insert(conn: &mut Conn, row: &ContactRow) -> Result<(), StoreError> {
    sql("INSERT INTO supplier_contacts (number, text, at, token) VALUES ($1, $2, $3, $4)")
        .bind(row.number)
        .bind(&row.text)
        .bind(&row.at)
        .bind(&row.token)
        .execute(conn)
        .await
}
