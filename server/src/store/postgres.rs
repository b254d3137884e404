//! PostgreSQL: any number of processes on one database.

use super::conn::is_reusable;
use super::database::Database;
use super::{Conn, StoreError};
use sqlx::ConnectOptions;
use sqlx::migrate::{Migration, Migrator};
use sqlx::postgres::{PgConnectOptions, PgConnection, PgPoolOptions};
use std::str::FromStr;
use std::time::{Duration, Instant};

/// Each step runs once however many processes start together: the migrator takes a lock of the database.
pub static MIGRATIONS: Migrator = sqlx::migrate!("../migrations/postgres");

/// One write at a time over all processes, as the one chain of the audit log needs anyway; the number is ours alone within
/// this database. Read committed, whatever the database's default, so that the first look around comes after the lock.
pub const BEGIN: &str = "BEGIN ISOLATION LEVEL READ COMMITTED; SET LOCAL lock_timeout = '15s'; \
    SELECT pg_advisory_xact_lock(7881706606962700907)";

const READERS: u32 = 8;

/// One waits for the lock while the other works.
const WRITERS: u32 = 2;

/// How long a start waits for a database that starts as well or has no connection free, and how often it looks.
const START_PATIENCE: Duration = Duration::from_secs(30);
const LOOK_EVERY: Duration = Duration::from_secs(1);

/// Opens the database at this address.
pub async fn open(address: &str) -> Result<Database, StoreError> {
    let options = options(address)?;
    let mut migrating = connect_patiently(&options).await?;
    MIGRATIONS.run(&mut migrating).await?;
    pools(options).await
}

async fn connect_patiently(options: &PgConnectOptions) -> Result<PgConnection, StoreError> {
    let begun = Instant::now();
    loop {
        match options.connect().await.map_err(StoreError::from) {
            Err(error @ StoreError::DatabaseAway(_)) if begun.elapsed() < START_PATIENCE => {
                let patience = START_PATIENCE.as_secs();
                tracing::warn!(%error, "the start waits for the database, {patience} seconds at most");
                tokio::time::sleep(LOOK_EVERY).await;
            }
            done => return done,
        }
    }
}

/// The connections that a process works with.
pub async fn pools(options: PgConnectOptions) -> Result<Database, StoreError> {
    let options = options.options([
        ("statement_timeout", "30s"),
        // A process that hangs in the middle of a write must not stop the others for ever.
        ("idle_in_transaction_session_timeout", "30s"),
        ("synchronous_commit", "on"),
    ]);
    let writers =
        PgPoolOptions::new().max_connections(WRITERS).after_release(is_reusable).connect_with(options.clone()).await?;
    let readers = PgPoolOptions::new()
        .max_connections(READERS)
        .connect_with(options.options([("default_transaction_read_only", "on")]))
        .await?;
    Ok(Database::Postgres { writers, readers })
}

/// A transaction that sees the database as it is when it begins.
pub async fn snapshot(address: &str) -> Result<Conn, StoreError> {
    let pool = PgPoolOptions::new().max_connections(1).connect_with(options(address)?).await?;
    Ok(Conn::PostgresWriter(pool.begin_with("BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY").await?))
}

/// Brings in just these steps of the schema.
pub async fn migrate_to(conn: &mut PgConnection, schema: &[i64]) -> Result<(), StoreError> {
    if let Some(newer) = schema.iter().find(|version| !MIGRATIONS.version_exists(**version)) {
        return Err(StoreError::NewerSchema(*newer));
    }
    let steps: Vec<Migration> = MIGRATIONS.iter().filter(|step| schema.contains(&step.version)).cloned().collect();
    Ok(Migrator::with_migrations(steps).run(conn).await?)
}

pub fn options(address: &str) -> Result<PgConnectOptions, StoreError> {
    if !(address.starts_with("postgres://") || address.starts_with("postgresql://")) {
        return Err(StoreError::NotPostgres);
    }
    Ok(PgConnectOptions::from_str(address)?.application_name("matchmark"))
}
