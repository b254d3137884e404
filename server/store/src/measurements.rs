//! Measured values of kits: added, never changed.

use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

/// One measured value as kept.
#[derive(Debug, FromRow)]
pub struct MeasurementRow {
    pub gauge: String,
    pub value: f64,
}

/// Adds a measured value after all others of its kit.
pub async fn insert(conn: &mut Conn, kit: &str, row: &MeasurementRow, at: &str, token: &str) -> Result<(), StoreError> {
    sql("INSERT INTO measurements (kit, number, gauge, value, at, token) \
         SELECT $1, COALESCE(MAX(number), 0) + 1, $2, $3, $4, $5 FROM measurements WHERE kit = $1")
    .bind(kit)
    .bind(&row.gauge)
    .bind(row.value)
    .bind(at)
    .bind(token)
    .execute(conn)
    .await
}

/// A measured value with its history.
#[derive(Debug, FromRow)]
pub struct MeasuredRow {
    pub number: i64,
    pub gauge: String,
    pub value: f64,
    pub at: String,
    pub token: String,
}

/// All that was measured of a kit, oldest first.
pub async fn list(conn: &mut Conn, kit: &str) -> Result<Vec<MeasuredRow>, StoreError> {
    sql("SELECT number, gauge, value, at, token FROM measurements WHERE kit = $1 ORDER BY number")
        .bind(kit)
        .all(conn)
        .await
}

/// The newest value of each gauge of a kit.
pub async fn newest(conn: &mut Conn, kit: &str) -> Result<Vec<MeasurementRow>, StoreError> {
    sql("SELECT gauge, value FROM measurements AS newer WHERE kit = $1 AND number = \
         (SELECT MAX(number) FROM measurements WHERE kit = $1 AND gauge = newer.gauge) ORDER BY gauge")
    .bind(kit)
    .all(conn)
    .await
}
