//! PostgreSQL: any number of processes on one database.

use super::conn::is_reusable;
use super::database::Database;
use super::{Conn, StoreError};
use sqlx::migrate::{Migration, Migrator};
use sqlx::postgres::{PgConnectOptions, PgConnection, PgPoolOptions};
use sqlx::{ConnectOptions, Connection};
use std::str::FromStr;
use std::time::{Duration, Instant};
use tokio::sync::Mutex;

/// Each step runs once however many processes start together: the migrator takes a lock of the database.
pub static MIGRATIONS: Migrator = sqlx_macros::migrate!("../../migrations/postgres");

/// One write at a time over all processes, so that what a write reads stays true until it ends; the number is ours alone within
/// this database. Read committed, whatever the database's default, so that the first look around comes after the lock.
pub const BEGIN: &str = "BEGIN ISOLATION LEVEL READ COMMITTED; SET LOCAL lock_timeout = '15s'; \
    SELECT pg_advisory_xact_lock(7881706606962700907)";

const READERS: u32 = 8;

/// One waits for the lock while the other works.
const WRITERS: u32 = 2;

/// How long a start waits for a database that starts as well or has no connection free, and how often it looks.
const START_PATIENCE: Duration = Duration::from_secs(30);
const LOOK_EVERY: Duration = Duration::from_secs(1);

/// After so long without a connection it is looked whether there is a way to the server at all, and again as often.
const SOON: Duration = Duration::from_secs(2);

/// How long it may take the server to answer, and how long its answer stands for all who wait.
const LOOK_WITHIN: Duration = Duration::from_secs(3);
const LOOK_STANDS: Duration = Duration::from_secs(1);

/// SQLSTATE of a server with no connection free: it is there.
const NONE_FREE: &str = "53300";

/// The way to the server. The pool waits for one that refuses connections as long as for one that is busy, and does not tell which.
pub struct ServerReach {
    options: Box<PgConnectOptions>,
    /// When somebody looked, and whether it was open.
    looked: Mutex<Option<(Instant, bool)>>,
}

impl ServerReach {
    /// Waits for a connection as long as there is a way.
    pub async fn wait<T>(&self, connection: impl Future<Output = Result<T, sqlx::Error>>) -> Result<T, StoreError> {
        let mut connection = std::pin::pin!(connection);
        loop {
            match tokio::time::timeout(SOON, &mut connection).await {
                Ok(connected) => return Ok(connected?),
                Err(_) => self.must_be_open().await?,
            }
        }
    }

    /// One looks for all who wait.
    async fn must_be_open(&self) -> Result<(), StoreError> {
        let mut looked = self.looked.lock().await;
        match *looked {
            Some((at, true)) if at.elapsed() < LOOK_STANDS => return Ok(()),
            Some((at, false)) if at.elapsed() < LOOK_STANDS => {
                return Err(StoreError::DatabaseAway(sqlx::Error::Io(std::io::ErrorKind::NotConnected.into())));
            }
            _ => {}
        }
        let away = match tokio::time::timeout(LOOK_WITHIN, self.options.connect()).await {
            Ok(Ok(conn)) => {
                // It served its purpose, however it ends.
                let _ = conn.close().await;
                None
            }
            Ok(Err(sqlx::Error::Database(error))) if error.code().is_some_and(|code| code == NONE_FREE) => None,
            Ok(Err(error)) => Some(error),
            Err(_) => Some(sqlx::Error::Io(std::io::ErrorKind::TimedOut.into())),
        };
        *looked = Some((Instant::now(), away.is_none()));
        away.map_or(Ok(()), |error| Err(StoreError::DatabaseAway(error)))
    }
}

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
                tracing::warn!(%error, "waiting for the database, {patience} seconds at most");
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
    let way = ServerReach { options: Box::new(options.clone()), looked: Mutex::default() };
    let writers =
        PgPoolOptions::new().max_connections(WRITERS).after_release(is_reusable).connect_with(options.clone()).await?;
    let readers = PgPoolOptions::new()
        .max_connections(READERS)
        .connect_with(options.options([("default_transaction_read_only", "on")]))
        .await?;
    Ok(Database::Postgres { writers, readers, way })
}

/// A transaction that sees the database as it is when it begins.
pub async fn snapshot(address: &str) -> Result<Conn, StoreError> {
    let pool = PgPoolOptions::new().max_connections(1).connect_with(options(address)?).await?;
    let begun = pool.begin_with("BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY").await?;
    Ok(Conn::PostgresWriter(begun.into()))
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
