//! Numbers of packs, taken before the pack is drawn: the row goes when the pack is recorded, and stays void when there is none.

use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

/// A number as it is taken.
#[derive(Debug)]
pub struct TakenRow<'a> {
    pub kit: &'a str,
    pub number: i64,
    /// Hash of the call that takes it; empty for one without a key.
    pub call: &'a str,
    pub taken_at: &'a str,
    pub taken_by: &'a str,
    /// Until when its pack may be recorded.
    pub good_until: &'a str,
}

/// A number that no pack has.
#[derive(Debug, FromRow)]
pub struct VoidRow {
    pub kit: String,
    pub number: i64,
    /// Since when it can have none.
    pub at: String,
}

/// The number that comes after all that a kit's packs have, had or may get, and after those that a restore left out.
pub async fn next(conn: &mut Conn, kit: &str) -> Result<i64, StoreError> {
    sql("SELECT COALESCE(MAX(number), 0) + 1 FROM \
         (SELECT number FROM packs WHERE kit = $1 UNION ALL SELECT number FROM pack_numbers WHERE kit = $1 \
         UNION ALL SELECT last FROM kit_skips WHERE kit = $1) AS given")
    .bind(kit)
    .one_value(conn)
    .await
}

/// Takes a number.
pub async fn take(conn: &mut Conn, row: &TakenRow<'_>) -> Result<(), StoreError> {
    sql("INSERT INTO pack_numbers (kit, number, call, taken_at, taken_by, good_until) VALUES ($1, $2, $3, $4, $5, $6)")
        .bind(row.kit)
        .bind(row.number)
        .bind(row.call)
        .bind(row.taken_at)
        .bind(row.taken_by)
        .bind(row.good_until)
        .execute(conn)
        .await
}

/// Keeps a number that is still good for longer.
pub async fn keep(conn: &mut Conn, kit: &str, number: i64, good_until: &str) -> Result<(), StoreError> {
    sql("UPDATE pack_numbers SET good_until = $3 WHERE kit = $1 AND number = $2 AND void_at IS NULL")
        .bind(kit)
        .bind(number)
        .bind(good_until)
        .execute(conn)
        .await
}

/// Whether a number is taken and its pack may still be recorded.
pub async fn is_good(conn: &mut Conn, kit: &str, number: i64, now: &str) -> Result<bool, StoreError> {
    let found: i64 = sql("SELECT COUNT(*) FROM pack_numbers \
         WHERE kit = $1 AND number = $2 AND void_at IS NULL AND good_until > $3")
    .bind(kit)
    .bind(number)
    .bind(now)
    .one_value(conn)
    .await?;
    Ok(found > 0)
}

/// Whether a number is taken and not yet made void.
pub async fn is_open(conn: &mut Conn, kit: &str, number: i64) -> Result<bool, StoreError> {
    let found: i64 = sql("SELECT COUNT(*) FROM pack_numbers WHERE kit = $1 AND number = $2 AND void_at IS NULL")
        .bind(kit)
        .bind(number)
        .one_value(conn)
        .await?;
    Ok(found > 0)
}

/// The number that a call has taken and that is still good.
pub async fn of_call(conn: &mut Conn, kit: &str, call: &str, now: &str) -> Result<Option<i64>, StoreError> {
    sql("SELECT number FROM pack_numbers WHERE kit = $1 AND call = $2 AND void_at IS NULL AND good_until > $3 \
         ORDER BY number DESC LIMIT 1")
    .bind(kit)
    .bind(call)
    .bind(now)
    .optional_value(conn)
    .await
}

/// Forgets that a number was taken, in the write that records its pack.
pub async fn fill(conn: &mut Conn, kit: &str, number: i64) -> Result<(), StoreError> {
    sql("DELETE FROM pack_numbers WHERE kit = $1 AND number = $2").bind(kit).bind(number).execute(conn).await
}

/// Makes a number void for good.
pub async fn make_void(conn: &mut Conn, kit: &str, number: i64, at: &str) -> Result<(), StoreError> {
    sql("UPDATE pack_numbers SET void_at = $3 WHERE kit = $1 AND number = $2 AND void_at IS NULL")
        .bind(kit)
        .bind(number)
        .bind(at)
        .execute(conn)
        .await
}

/// Numbers that are good no longer and not yet made void, of all kits.
pub async fn left_behind(conn: &mut Conn, now: &str) -> Result<Vec<VoidRow>, StoreError> {
    sql("SELECT kit, number, good_until AS at FROM pack_numbers WHERE void_at IS NULL AND good_until <= $1 \
         ORDER BY kit, number")
    .bind(now)
    .all(conn)
    .await
}

/// Numbers of a kit that have no pack and will have none.
pub async fn void(conn: &mut Conn, kit: &str, now: &str) -> Result<Vec<VoidRow>, StoreError> {
    sql("SELECT kit, number, COALESCE(void_at, good_until) AS at FROM pack_numbers \
         WHERE kit = $1 AND (void_at IS NOT NULL OR good_until <= $2) ORDER BY number")
    .bind(kit)
    .bind(now)
    .all(conn)
    .await
}

/// A number in the order of all that were given.
#[derive(Debug, FromRow)]
pub struct GivenRow {
    pub kit: String,
    pub number: i64,
    /// True once it is made void.
    pub is_void: bool,
}

/// All numbers without a pack, those of a kit together.
pub async fn all(conn: &mut Conn) -> Result<Vec<GivenRow>, StoreError> {
    sql("SELECT kit, number, void_at IS NOT NULL AS is_void FROM pack_numbers ORDER BY kit, number").all(conn).await
}

/// When builders had packs of a kit drawn after this time, or began to, the oldest first.
pub async fn by_builders(conn: &mut Conn, kit: &str, after: &str) -> Result<Vec<String>, StoreError> {
    let rows: Vec<(String,)> = sql("SELECT at FROM \
         (SELECT issued_at AS at, issued_by AS token FROM packs WHERE kit = $1 \
         UNION ALL SELECT taken_at AS at, taken_by AS token FROM pack_numbers WHERE kit = $1 AND void_at IS NULL) AS drawn \
         WHERE at > $2 AND EXISTS (SELECT 1 FROM tokens WHERE tokens.id = drawn.token AND tokens.role = 'builder') \
         ORDER BY at")
    .bind(kit)
    .bind(after)
    .all(conn)
    .await?;
    Ok(rows.into_iter().map(|(at,)| at).collect())
}
