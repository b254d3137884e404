//! Notices: what a change means for the kits that it concerns, and how far each of them is.

use super::restores::{self, Numbered};
use super::row::row;
use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

row! {
    /// A notice as kept.
    #[derive(Debug, FromRow)]
    pub struct NoticeRow of "notices", insert {
        pub design: String,
        pub number: i64,
        pub from_revision: String,
        pub to_revision: String,
        pub class: String,
        pub text: String,
        pub at: String,
        pub token: String,
    }
}

row! {
    /// Kits of one revision with the same choices, and what is to be done to them.
    #[derive(Debug, FromRow)]
    pub struct GroupRow of "notice_groups" {
        pub part: i64,
        pub revision: String,
        /// JSON object: choice by option.
        pub choices: String,
        /// JSON of the work; empty when the kits could not be compared.
        pub changes: String,
    }
}

/// How far a kit is with a notice.
#[derive(Debug, Clone, FromRow)]
pub struct NoticeKitRow {
    pub kit: String,
    pub design: String,
    pub number: i64,
    pub class: String,
    pub text: String,
    pub from_revision: String,
    pub to_revision: String,
    pub at: String,
    /// Revision that the kit had when the notice was raised.
    pub revision: String,
    /// Revision that the kit has.
    pub kit_revision: String,
    pub changes: String,
    pub acknowledged_at: Option<String>,
    pub done_at: Option<String>,
    /// Ids of the tokens that answered it, their roles and names.
    pub acknowledged_by: Option<String>,
    pub acknowledged_role: Option<String>,
    pub acknowledged_name: Option<String>,
    pub done_by: Option<String>,
    pub done_role: Option<String>,
    pub done_name: Option<String>,
}

/// The number that the next notice of a design gets, after those that a restore left out.
pub async fn next_number(conn: &mut Conn, design: &str) -> Result<i64, StoreError> {
    let taken: i64 =
        sql("SELECT COALESCE(MAX(number), 0) FROM notices WHERE design = $1").bind(design).one_value(conn).await?;
    Ok(taken.max(restores::last_skipped(conn, design, Numbered::Notice).await?) + 1)
}

/// Adds a notice.
pub async fn insert(conn: &mut Conn, row: &NoticeRow) -> Result<(), StoreError> {
    row.insert(&[]).execute(conn).await
}

/// Adds a group of a notice without any kit.
pub async fn insert_part(conn: &mut Conn, notice: &NoticeRow, group: &GroupRow) -> Result<(), StoreError> {
    sql("INSERT INTO notice_groups (design, number, part, revision, choices, changes) VALUES ($1, $2, $3, $4, $5, $6)")
        .bind(&notice.design)
        .bind(notice.number)
        .bind(group.part)
        .bind(&group.revision)
        .bind(&group.choices)
        .bind(&group.changes)
        .execute(conn)
        .await
}

/// Adds a kit to a group of a notice.
pub async fn insert_kit(conn: &mut Conn, kit: &str, notice: &NoticeRow, part: i64) -> Result<(), StoreError> {
    sql("INSERT INTO notice_kits (kit, design, number, part) VALUES ($1, $2, $3, $4)")
        .bind(kit)
        .bind(&notice.design)
        .bind(notice.number)
        .bind(part)
        .execute(conn)
        .await
}

/// Adds a group of a notice with all kits that belong to it now.
pub async fn insert_group(conn: &mut Conn, notice: &NoticeRow, group: &GroupRow) -> Result<(), StoreError> {
    insert_part(conn, notice, group).await?;
    sql("INSERT INTO notice_kits (kit, design, number, part) SELECT serial, $1, $2, $3 FROM kits \
         WHERE design = $1 AND revision = $4 AND choices = $5")
    .bind(&notice.design)
    .bind(notice.number)
    .bind(group.part)
    .bind(&group.revision)
    .bind(&group.choices)
    .execute(conn)
    .await
}

/// All notices of a design, oldest first.
pub async fn list(conn: &mut Conn, design: &str) -> Result<Vec<NoticeRow>, StoreError> {
    NoticeRow::select("WHERE design = $1 ORDER BY number").bind(design).all(conn).await
}

/// One notice.
pub async fn find(conn: &mut Conn, design: &str, number: i64) -> Result<Option<NoticeRow>, StoreError> {
    NoticeRow::select("WHERE design = $1 AND number = $2").bind(design).bind(number).optional(conn).await
}

/// The groups of a notice.
pub async fn groups(conn: &mut Conn, design: &str, number: i64) -> Result<Vec<GroupRow>, StoreError> {
    GroupRow::select("WHERE design = $1 AND number = $2 ORDER BY part").bind(design).bind(number).all(conn).await
}

/// How many kits of a notice are how far.
#[derive(Debug, FromRow)]
pub struct ProgressRow {
    pub kits: i64,
    pub acknowledged: i64,
    pub done: i64,
}

/// How many kits of a notice there are, have acknowledged it, and are done; one that is done counts as both.
pub async fn progress(conn: &mut Conn, design: &str, number: i64) -> Result<ProgressRow, StoreError> {
    sql("SELECT COUNT(*) AS kits, COUNT(acknowledged_at) AS acknowledged, COUNT(done_at) AS done \
         FROM notice_kits WHERE design = $1 AND number = $2")
    .bind(design)
    .bind(number)
    .one(conn)
    .await
}

/// Kits of notices as [`NoticeKitRow`]s: what stands for their changes, and which of them in what order.
macro_rules! notice_kits {
    ($changes:literal, $which:literal) => {
        concat!(
            "SELECT notice_kits.kit, notice_kits.design, notice_kits.number, notices.class, notices.text, \
             notices.from_revision, notices.to_revision, notices.at, notice_groups.revision, kits.revision AS kit_revision, ",
            $changes,
            ", notice_kits.acknowledged_at, notice_kits.done_at, \
             notice_kits.acknowledged_by, reader.role AS acknowledged_role, reader.name AS acknowledged_name, \
             notice_kits.done_by, doer.role AS done_role, doer.name AS done_name FROM notice_kits \
             JOIN kits ON kits.serial = notice_kits.kit \
             LEFT JOIN tokens AS reader ON reader.id = notice_kits.acknowledged_by \
             LEFT JOIN tokens AS doer ON doer.id = notice_kits.done_by \
             JOIN notices ON notices.design = notice_kits.design AND notices.number = notice_kits.number \
             JOIN notice_groups ON notice_groups.design = notice_kits.design \
             AND notice_groups.number = notice_kits.number AND notice_groups.part = notice_kits.part ",
            $which
        )
    };
}

/// The notices that concern a kit, oldest first.
pub async fn of_kit(conn: &mut Conn, kit: &str) -> Result<Vec<NoticeKitRow>, StoreError> {
    sql(notice_kits!("notice_groups.changes", "WHERE notice_kits.kit = $1 ORDER BY notice_kits.number"))
        .bind(kit)
        .all(conn)
        .await
}

/// A kit that a notice concerns, and the revision that it had when it was raised.
#[derive(Debug, FromRow)]
pub struct ToldRow {
    pub kit: String,
    pub revision: String,
}

/// The kits that a notice concerns, in order of serial.
pub async fn told(conn: &mut Conn, design: &str, number: i64) -> Result<Vec<ToldRow>, StoreError> {
    sql("SELECT notice_kits.kit, notice_groups.revision FROM notice_kits \
         JOIN notice_groups ON notice_groups.design = notice_kits.design \
         AND notice_groups.number = notice_kits.number AND notice_groups.part = notice_kits.part \
         WHERE notice_kits.design = $1 AND notice_kits.number = $2 ORDER BY notice_kits.kit")
    .bind(design)
    .bind(number)
    .all(conn)
    .await
}

/// Which kits of notices to list.
#[derive(Debug, Default)]
pub struct NoticeFilter {
    pub design: Option<String>,
    pub number: Option<i64>,
    pub class: Option<String>,
    /// Only those not done.
    pub outstanding: bool,
}

/// Kits of notices in order of serial and number, from the one after.
pub async fn kits(
    conn: &mut Conn,
    filter: &NoticeFilter,
    after: (&str, i64),
    limit: i64,
) -> Result<Vec<NoticeKitRow>, StoreError> {
    sql(notice_kits!(
        "'' AS changes",
        "WHERE (notice_kits.kit > $1 OR (notice_kits.kit = $1 AND notice_kits.number > $2)) \
         AND ($3 IS NULL OR notice_kits.design = $3) AND ($4 IS NULL OR notice_kits.number = $4) \
         AND ($5 IS NULL OR notices.class = $5) AND ($6 = 0 OR notice_kits.done_at IS NULL) \
         ORDER BY notice_kits.kit, notice_kits.number LIMIT $7"
    ))
    .bind(after.0)
    .bind(after.1)
    .bind(&filter.design)
    .bind(filter.number)
    .bind(&filter.class)
    .bind(i64::from(filter.outstanding))
    .bind(limit)
    .all(conn)
    .await
}

/// Records that the holder of a kit has read a notice, unless that is recorded already.
pub async fn acknowledge(conn: &mut Conn, kit: &str, number: i64, at: &str, token: &str) -> Result<(), StoreError> {
    sql("UPDATE notice_kits SET acknowledged_at = $3, acknowledged_by = $4 \
         WHERE kit = $1 AND number = $2 AND acknowledged_at IS NULL")
    .bind(kit)
    .bind(number)
    .bind(at)
    .bind(token)
    .execute(conn)
    .await
}

/// Records that a kit is done with a notice that was acknowledged, unless that is recorded already.
pub async fn done(conn: &mut Conn, kit: &str, number: i64, at: &str, token: &str) -> Result<(), StoreError> {
    sql("UPDATE notice_kits SET done_at = $3, done_by = $4 WHERE kit = $1 AND number = $2 AND done_at IS NULL")
        .bind(kit)
        .bind(number)
        .bind(at)
        .bind(token)
        .execute(conn)
        .await
}
