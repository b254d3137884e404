//! Measured values of kits: added and taken back, never changed.

use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;
use std::collections::BTreeMap;

/// A value that was told of a gauge, or taken back.
#[derive(Debug)]
pub struct MeasurementRow {
    pub gauge: String,
    /// The value, mm; that which was, where it is taken back.
    pub value: f64,
    pub is_taken_back: bool,
}

/// Adds to what was measured of a kit, after all that came before.
pub async fn insert(conn: &mut Conn, kit: &str, row: &MeasurementRow, at: &str, token: &str) -> Result<(), StoreError> {
    sql("INSERT INTO measurements (kit, number, gauge, value, taken_back, at, token) \
         SELECT $1, COALESCE(MAX(number), 0) + 1, $2, $3, $4, $5, $6 FROM measurements WHERE kit = $1")
    .bind(kit)
    .bind(&row.gauge)
    .bind(row.value)
    .bind(row.is_taken_back.then_some(1_i64))
    .bind(at)
    .bind(token)
    .execute(conn)
    .await
}

/// A measured value with its history.
#[derive(Debug, Clone, FromRow)]
pub struct MeasuredRow {
    pub number: i64,
    pub gauge: String,
    /// The value, mm; that which was, where it is taken back.
    pub value: f64,
    /// 1 where it is taken back.
    pub taken_back: Option<i64>,
    pub at: String,
    pub token: String,
}

/// All that was measured of a kit, oldest first.
pub async fn list(conn: &mut Conn, kit: &str) -> Result<Vec<MeasuredRow>, StoreError> {
    sql("SELECT number, gauge, value, taken_back, at, token FROM measurements WHERE kit = $1 ORDER BY number")
        .bind(kit)
        .all(conn)
        .await
}

/// What was said last of each gauge, of rows that are oldest first.
pub fn last(rows: impl IntoIterator<Item = MeasuredRow>) -> BTreeMap<String, MeasuredRow> {
    rows.into_iter().map(|row| (row.gauge.clone(), row)).collect()
}

/// The value of each gauge that has one, mm, of rows that are oldest first.
pub fn values(rows: impl IntoIterator<Item = MeasuredRow>) -> BTreeMap<String, f64> {
    last(rows).into_iter().filter(|(_, row)| row.taken_back.is_none()).map(|(gauge, row)| (gauge, row.value)).collect()
}
