//! Notes of the supplier's people about a kit.

use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

/// A note as kept; its text is empty once the customer was erased.
#[derive(Debug, FromRow)]
pub struct NoteRow {
    pub number: i64,
    pub text: String,
    pub at: String,
    pub token: String,
}

/// Adds a note after all others of its kit.
pub async fn insert(conn: &mut Conn, kit: &str, text: &str, at: &str, token: &str) -> Result<(), StoreError> {
    sql("INSERT INTO kit_notes (kit, number, text, at, token) \
         SELECT $1, COALESCE(MAX(number), 0) + 1, $2, $3, $4 FROM kit_notes WHERE kit = $1")
    .bind(kit)
    .bind(text)
    .bind(at)
    .bind(token)
    .execute(conn)
    .await
}

/// The notes of a kit, oldest first.
pub async fn list(conn: &mut Conn, kit: &str) -> Result<Vec<NoteRow>, StoreError> {
    sql("SELECT number, text, at, token FROM kit_notes WHERE kit = $1 ORDER BY number").bind(kit).all(conn).await
}
