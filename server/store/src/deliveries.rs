//! What is to be told to whom over which channel. Rows name no person.

use super::row::row;
use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

row! {
    /// A delivery as kept.
    #[derive(Debug, Clone, FromRow)]
    pub struct DeliveryRow of "deliveries", insert {
        pub id: String,
        pub channel: String,
        pub event: String,
        pub kit: String,
        /// JSON of the event.
        pub payload: String,
        /// `waiting`, `sent` or `dead`.
        pub state: String,
        pub attempts: i64,
        pub due_at: String,
        /// Why the last attempt failed; else empty.
        pub error: String,
        pub created_at: String,
    }
}

/// Adds a delivery.
pub async fn insert(conn: &mut Conn, row: &DeliveryRow) -> Result<(), StoreError> {
    row.insert(&[]).execute(conn).await
}

/// The delivery that is due longest.
pub async fn due(conn: &mut Conn, now: &str) -> Result<Option<DeliveryRow>, StoreError> {
    DeliveryRow::select("WHERE state = 'waiting' AND due_at <= $1 ORDER BY due_at, id LIMIT 1")
        .bind(now)
        .optional(conn)
        .await
}

/// One delivery.
pub async fn find(conn: &mut Conn, id: &str) -> Result<Option<DeliveryRow>, StoreError> {
    DeliveryRow::select("WHERE id = $1").bind(id).optional(conn).await
}

/// Deliveries in a state, or all, in order of their id, from the one after.
pub async fn list(
    conn: &mut Conn,
    state: Option<&str>,
    after: &str,
    limit: i64,
) -> Result<Vec<DeliveryRow>, StoreError> {
    DeliveryRow::select("WHERE id > $1 AND ($2 IS NULL OR state = $2) ORDER BY id LIMIT $3")
        .bind(after)
        .bind(state)
        .bind(limit)
        .all(conn)
        .await
}

/// Says how far a delivery is and when it is due next.
pub async fn set(conn: &mut Conn, row: &DeliveryRow) -> Result<(), StoreError> {
    sql("UPDATE deliveries SET state = $2, attempts = $3, due_at = $4, error = $5 WHERE id = $1")
        .bind(&row.id)
        .bind(&row.state)
        .bind(row.attempts)
        .bind(&row.due_at)
        .bind(&row.error)
        .execute(conn)
        .await
}
