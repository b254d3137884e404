//! What happened, told to other programs. Rows name no person.

use super::row::row;
use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

row! {
    /// An event as kept.
    #[derive(Debug, FromRow)]
    pub struct EventRow of "events" {
        pub id: i64,
        pub at: String,
        pub kind: String,
        /// Address in the API.
        pub subject: String,
        /// JSON of its facts.
        pub facts: String,
    }
}

/// Adds an event and returns its id: that of `row`, its time in milliseconds since 1970, or the next after the last where that is not
/// smaller. So ids grow after a restore too, which may have lost the last. Writes come one after the other in all processes, so
/// that whoever sees an id has seen, or will never see, those before it.
pub async fn insert(conn: &mut Conn, row: &EventRow) -> Result<i64, StoreError> {
    sql("INSERT INTO events (id, at, kind, subject, facts) \
         SELECT CASE WHEN COALESCE(MAX(id), 0) < $1 THEN $1 ELSE MAX(id) + 1 END, $2, $3, $4, $5 FROM events RETURNING id")
    .bind(row.id)
    .bind(&row.at)
    .bind(&row.kind)
    .bind(&row.subject)
    .bind(&row.facts)
    .one_value(conn)
    .await
}

/// Events in order of their id, from the one after.
pub async fn after(conn: &mut Conn, id: i64, limit: i64) -> Result<Vec<EventRow>, StoreError> {
    EventRow::select("WHERE id > $1 ORDER BY id LIMIT $2").bind(id).bind(limit).all(conn).await
}

/// Id of the oldest that is kept.
pub async fn oldest(conn: &mut Conn) -> Result<Option<i64>, StoreError> {
    sql("SELECT id FROM events ORDER BY id LIMIT 1").optional_value(conn).await
}

/// Forgets events with a smaller id, but not the last of them: it shows that there were some.
pub async fn forget(conn: &mut Conn, before: i64) -> Result<(), StoreError> {
    sql("DELETE FROM events WHERE id < (SELECT MAX(id) FROM events WHERE id < $1)").bind(before).execute(conn).await
}
