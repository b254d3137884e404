//! Jobs that issue a pack for every kit of a revision, and what became of each kit.

use super::row::row;
use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

row! {
    /// A job as kept.
    #[derive(Debug, Clone, FromRow)]
    pub struct JobRow of "pack_jobs" {
        pub number: i64,
        pub design: String,
        pub revision: String,
        /// Paper for all kits; none when each keeps its own.
        pub paper: Option<String>,
        pub created_at: String,
        /// Id of the token that asked for it.
        pub created_by: String,
        pub cancelled_at: Option<String>,
        pub finished_at: Option<String>,
        pub leased_by: String,
        pub leased_until: String,
    }
}

row! {
    /// A kit of a job.
    #[derive(Debug, FromRow)]
    pub struct JobKitRow of "pack_job_kits" {
        pub kit: String,
        /// `waiting`, `issued`, `current`, `refused`, or `left` when the job was cancelled before.
        pub state: String,
        /// In order of results; none while it waits.
        pub place: Option<i64>,
        pub pack: Option<i64>,
        /// JSON of a refusal; else empty.
        pub problem: String,
        pub at: Option<String>,
    }
}

/// Kits of a job by what became of them.
#[derive(Debug, FromRow)]
pub struct CountRow {
    pub state: String,
    pub kits: i64,
}

/// Adds a job and returns its number.
pub async fn insert(conn: &mut Conn, row: &JobRow) -> Result<i64, StoreError> {
    let number: i64 = sql("SELECT COALESCE(MAX(number), 0) + 1 FROM pack_jobs").one_value(conn).await?;
    sql("INSERT INTO pack_jobs (number, design, revision, paper, created_at, created_by) VALUES ($1, $2, $3, $4, $5, $6)")
        .bind(number)
        .bind(&row.design)
        .bind(&row.revision)
        .bind(&row.paper)
        .bind(&row.created_at)
        .bind(&row.created_by)
        .execute(conn)
        .await?;
    Ok(number)
}

/// Adds all kits that the revision has now.
pub async fn insert_kits(conn: &mut Conn, job: i64, design: &str, revision: &str) -> Result<(), StoreError> {
    sql("INSERT INTO pack_job_kits (job, kit, state) SELECT $1, serial, 'waiting' FROM kits \
         WHERE design = $2 AND revision = $3")
    .bind(job)
    .bind(design)
    .bind(revision)
    .execute(conn)
    .await
}

/// One job.
pub async fn find(conn: &mut Conn, number: i64) -> Result<Option<JobRow>, StoreError> {
    JobRow::select("WHERE number = $1").bind(number).optional(conn).await
}

/// Jobs, newest first, from the one before `before`.
pub async fn list(conn: &mut Conn, before: i64, limit: i64) -> Result<Vec<JobRow>, StoreError> {
    JobRow::select("WHERE number < $1 ORDER BY number DESC LIMIT $2").bind(before).bind(limit).all(conn).await
}

/// The oldest job that nobody works on and that is not finished.
pub async fn unclaimed(conn: &mut Conn, now: &str) -> Result<Option<JobRow>, StoreError> {
    JobRow::select("WHERE finished_at IS NULL AND leased_until <= $1 ORDER BY number LIMIT 1")
        .bind(now)
        .optional(conn)
        .await
}

/// Says who works on a job and until when nobody else may.
pub async fn lease(conn: &mut Conn, number: i64, by: &str, until: &str) -> Result<(), StoreError> {
    sql("UPDATE pack_jobs SET leased_by = $2, leased_until = $3 WHERE number = $1")
        .bind(number)
        .bind(by)
        .bind(until)
        .execute(conn)
        .await
}

/// Asks for a job to end.
pub async fn cancel(conn: &mut Conn, number: i64, at: &str) -> Result<(), StoreError> {
    sql("UPDATE pack_jobs SET cancelled_at = $2 WHERE number = $1 AND cancelled_at IS NULL AND finished_at IS NULL")
        .bind(number)
        .bind(at)
        .execute(conn)
        .await
}

/// Ends a job; kits that still wait are left as they are.
pub async fn finish(conn: &mut Conn, number: i64, at: &str) -> Result<(), StoreError> {
    sql("UPDATE pack_job_kits SET state = 'left' WHERE job = $1 AND state = 'waiting'")
        .bind(number)
        .execute(conn)
        .await?;
    sql("UPDATE pack_jobs SET finished_at = $2 WHERE number = $1 AND finished_at IS NULL")
        .bind(number)
        .bind(at)
        .execute(conn)
        .await
}

/// The next kit of a job that waits.
pub async fn next_kit(conn: &mut Conn, job: i64) -> Result<Option<String>, StoreError> {
    sql("SELECT kit FROM pack_job_kits WHERE job = $1 AND state = 'waiting' ORDER BY kit LIMIT 1")
        .bind(job)
        .optional_value(conn)
        .await
}

/// Records what became of a kit, unless that is recorded already.
pub async fn record(conn: &mut Conn, job: i64, row: &JobKitRow) -> Result<(), StoreError> {
    let place: i64 =
        sql("SELECT COALESCE(MAX(place), 0) + 1 FROM pack_job_kits WHERE job = $1").bind(job).one_value(conn).await?;
    sql("UPDATE pack_job_kits SET state = $3, place = $4, pack = $5, problem = $6, at = $7 \
         WHERE job = $1 AND kit = $2 AND place IS NULL")
    .bind(job)
    .bind(&row.kit)
    .bind(&row.state)
    .bind(place)
    .bind(row.pack)
    .bind(&row.problem)
    .bind(&row.at)
    .execute(conn)
    .await
}

/// How many kits of a job are in which state.
pub async fn counts(conn: &mut Conn, job: i64) -> Result<Vec<CountRow>, StoreError> {
    sql("SELECT state, COUNT(*) AS kits FROM pack_job_kits WHERE job = $1 GROUP BY state").bind(job).all(conn).await
}

/// Kits of a job in order of serial, from the one after.
pub async fn kits(conn: &mut Conn, job: i64, after: &str, limit: i64) -> Result<Vec<JobKitRow>, StoreError> {
    JobKitRow::select("WHERE job = $1 AND kit > $2 ORDER BY kit LIMIT $3")
        .bind(job)
        .bind(after)
        .bind(limit)
        .all(conn)
        .await
}

/// Results of a job in their order, from the one after.
pub async fn results(conn: &mut Conn, job: i64, after: i64, limit: i64) -> Result<Vec<JobKitRow>, StoreError> {
    JobKitRow::select("WHERE job = $1 AND place > $2 ORDER BY place LIMIT $3")
        .bind(job)
        .bind(after)
        .bind(limit)
        .all(conn)
        .await
}
