//! Designs.

use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

/// A design as kept.
#[derive(Debug, FromRow)]
pub struct DesignRow {
    pub id: String,
    pub name: String,
    pub created_at: String,
    /// Letter of the newest revision.
    pub latest: Option<String>,
}

/// Adds a design.
pub async fn insert(conn: &mut Conn, id: &str, name: &str, created_at: &str) -> Result<(), StoreError> {
    sql("INSERT INTO designs (id, name, created_at) VALUES ($1, $2, $3)")
        .bind(id)
        .bind(name)
        .bind(created_at)
        .execute(conn)
        .await
}

const SELECT_ONE: &str = "SELECT id, name, created_at, \
    (SELECT letter FROM revisions WHERE design = designs.id ORDER BY number DESC LIMIT 1) AS latest \
    FROM designs WHERE id = $1";

/// One design.
pub async fn find(conn: &mut Conn, id: &str) -> Result<Option<DesignRow>, StoreError> {
    sql(SELECT_ONE).bind(id).optional(conn).await
}

/// The ids of all designs, in their order.
pub async fn ids(conn: &mut Conn) -> Result<Vec<String>, StoreError> {
    let rows: Vec<(String,)> = sql("SELECT id FROM designs ORDER BY id").all(conn).await?;
    Ok(rows.into_iter().map(|(id,)| id).collect())
}

const SELECT_PAGE: &str = "SELECT id, name, created_at, \
    (SELECT letter FROM revisions WHERE design = designs.id ORDER BY number DESC LIMIT 1) AS latest \
    FROM designs WHERE id > $1 ORDER BY id LIMIT $2";

/// Designs in order of their id, from the one after `after`.
pub async fn list(conn: &mut Conn, after: &str, limit: i64) -> Result<Vec<DesignRow>, StoreError> {
    sql(SELECT_PAGE).bind(after).bind(limit).all(conn).await
}
