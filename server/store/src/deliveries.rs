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
        /// None for an event of no kit.
        pub kit: Option<String>,
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

/// The delivery that is due longest, of those to holders of kits before all others.
pub async fn due(conn: &mut Conn, now: &str) -> Result<Option<DeliveryRow>, StoreError> {
    DeliveryRow::select(
        "WHERE state = 'waiting' AND due_at <= $1 \
         ORDER BY CASE WHEN event IN ('notice', 'recall') THEN 0 ELSE 1 END, due_at, id LIMIT 1",
    )
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

/// Forgets deliveries of before that are over, but none to a holder of a kit.
pub async fn forget(conn: &mut Conn, before: &str) -> Result<(), StoreError> {
    sql("DELETE FROM deliveries WHERE created_at < $1 AND state <> 'waiting' AND event NOT IN ('notice', 'recall')")
        .bind(before)
        .execute(conn)
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{BlobsAt, Store};

    #[tokio::test]
    async fn what_holders_are_to_be_told_is_due_before_older_events_and_stays() {
        let directory = tempfile::tempdir().unwrap();
        let store = Store::open(directory.path(), None, &BlobsAt::Directory, "").await.unwrap();
        let mut write = store.write().await.unwrap();
        for (id, event, at) in
            [("1", "pack-issued", "2026-01-01"), ("2", "recall", "2026-02-01"), ("3", "notice", "2026-03-01")]
        {
            let row = DeliveryRow {
                id: id.to_owned(),
                channel: "webhook".to_owned(),
                event: event.to_owned(),
                kit: None,
                payload: String::new(),
                state: "waiting".to_owned(),
                attempts: 0,
                due_at: at.to_owned(),
                error: String::new(),
                created_at: at.to_owned(),
            };
            insert(&mut write, &row).await.unwrap();
        }
        let mut order = Vec::new();
        while let Some(row) = due(&mut write, "2026-04-01").await.unwrap() {
            set(&mut write, &DeliveryRow { state: "sent".to_owned(), ..row.clone() }).await.unwrap();
            order.push(row.id);
        }
        assert_eq!(order, ["2", "3", "1"]);
        forget(&mut write, "2026-04-01").await.unwrap();
        let left: Vec<String> = list(&mut write, None, "", 9).await.unwrap().into_iter().map(|row| row.id).collect();
        assert_eq!(left, ["2", "3"]);
    }
}
