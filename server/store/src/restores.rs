//! Restores of older backups, and the numbers that they left out.

use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

/// Numbers that were left out, first and last included.
#[derive(Debug, Clone, FromRow)]
pub struct SkipRow {
    /// Serial of the kit or id of the design.
    pub of: String,
    pub first: i64,
    pub last: i64,
}

/// What of a design is numbered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Numbered {
    Revision,
    Notice,
}

impl Numbered {
    fn name(self) -> &'static str {
        match self {
            Self::Revision => "revision",
            Self::Notice => "notice",
        }
    }
}

/// Puts a restore on record and returns its number.
pub async fn insert(conn: &mut Conn, at: &str, taken_at: &str) -> Result<i64, StoreError> {
    let number = count(conn).await? + 1;
    sql("INSERT INTO restores (number, at, taken_at) VALUES ($1, $2, $3)")
        .bind(number)
        .bind(at)
        .bind(taken_at)
        .execute(conn)
        .await?;
    Ok(number)
}

/// How many restores there were.
pub async fn count(conn: &mut Conn) -> Result<i64, StoreError> {
    sql("SELECT COALESCE(MAX(number), 0) FROM restores").one_value(conn).await
}

/// Leaves out for every kit the numbers of packs up to a full hundred: more than fifty.
pub async fn skip_packs(conn: &mut Conn, restore: i64) -> Result<(), StoreError> {
    sql("INSERT INTO kit_skips (kit, first, last, restore) \
         SELECT kits.serial, given.number + 1, (given.number + 50) / 100 * 100 + 100, $1 FROM kits JOIN ( \
         SELECT kit, MAX(number) AS number FROM ( \
         SELECT serial AS kit, 0 AS number FROM kits UNION ALL SELECT kit, number FROM packs \
         UNION ALL SELECT kit, number FROM pack_numbers UNION ALL SELECT kit, last FROM kit_skips) AS taken GROUP BY kit) AS given ON given.kit = kits.serial")
    .bind(restore)
    .execute(conn)
    .await
}

/// Leaves out the first hundred numbers of packs of a new kit for each restore: one with this serial may have been lost then.
pub async fn skip_packs_of(conn: &mut Conn, kit: &str) -> Result<(), StoreError> {
    let restore = count(conn).await?;
    if restore == 0 {
        return Ok(());
    }
    sql("INSERT INTO kit_skips (kit, first, last, restore) VALUES ($1, 1, $2, $3)")
        .bind(kit)
        .bind(100 * restore)
        .bind(restore)
        .execute(conn)
        .await
}

/// Leaves out for every design so many letters.
pub async fn skip_revisions(conn: &mut Conn, restore: i64, letters: i64) -> Result<(), StoreError> {
    sql("INSERT INTO design_skips (design, what, first, last, restore) \
         SELECT given.design, 'revision', given.number + 1, given.number + $2, $1 FROM ( \
         SELECT design, MAX(number) AS number FROM ( \
         SELECT id AS design, 0 AS number FROM designs UNION ALL SELECT design, number FROM revisions \
         UNION ALL SELECT design, last FROM design_skips WHERE what = 'revision') AS taken GROUP BY design) AS given")
    .bind(restore)
    .bind(letters)
    .execute(conn)
    .await
}

/// Leaves out for every design the numbers of notices up to a full hundred: more than fifty.
pub async fn skip_notices(conn: &mut Conn, restore: i64) -> Result<(), StoreError> {
    sql("INSERT INTO design_skips (design, what, first, last, restore) \
         SELECT given.design, 'notice', given.number + 1, (given.number + 50) / 100 * 100 + 100, $1 FROM ( \
         SELECT design, MAX(number) AS number FROM ( \
         SELECT id AS design, 0 AS number FROM designs UNION ALL SELECT design, number FROM notices \
         UNION ALL SELECT design, last FROM design_skips WHERE what = 'notice') AS taken GROUP BY design) AS given")
    .bind(restore)
    .execute(conn)
    .await
}

/// Puts a gap in the letters on record that a design came with.
pub async fn insert_gap(conn: &mut Conn, design: &str, first: i64, last: i64) -> Result<(), StoreError> {
    sql("INSERT INTO design_skips (design, what, first, last, restore) VALUES ($1, 'revision', $2, $3, 0)")
        .bind(design)
        .bind(first)
        .bind(last)
        .execute(conn)
        .await
}

/// The last number of a design that was left out; 0 when none was.
pub async fn last_skipped(conn: &mut Conn, design: &str, what: Numbered) -> Result<i64, StoreError> {
    sql("SELECT COALESCE(MAX(last), 0) FROM design_skips WHERE design = $1 AND what = $2")
        .bind(design)
        .bind(what.name())
        .one_value(conn)
        .await
}

/// The numbers of packs that were left out, of all kits.
pub async fn of_kits(conn: &mut Conn) -> Result<Vec<SkipRow>, StoreError> {
    sql("SELECT kit AS \"of\", first, last FROM kit_skips ORDER BY kit, first").all(conn).await
}

/// The numbers that were left out, of all designs.
pub async fn of_designs(conn: &mut Conn, what: Numbered) -> Result<Vec<SkipRow>, StoreError> {
    sql("SELECT design AS \"of\", first, last FROM design_skips WHERE what = $1 ORDER BY design, first")
        .bind(what.name())
        .all(conn)
        .await
}
