//! Where a server keeps things: a directory, a database of PostgreSQL when `MATCHMARK_TEST_DATABASE=postgres` asks for it, and a
//! bucket when `MATCHMARK_TEST_BLOBS=s3` does.

use crate::bucket::{Bucket, on_s3};
use crate::cable::{Cable, End};
use sqlx::migrate::{Migration, Migrator};
use sqlx::postgres::PgConnection;
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};
use sqlx::{AssertSqlSafe, Connection};
use std::io::{BufRead, BufReader};
use std::net::SocketAddr;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Arc, LazyLock};
use tempfile::TempDir;

/// Whether the tests run on PostgreSQL.
pub fn on_postgres() -> bool {
    match std::env::var("MATCHMARK_TEST_DATABASE").as_deref() {
        Ok("postgres") => true,
        Ok("sqlite") | Err(_) => false,
        Ok(other) => panic!("MATCHMARK_TEST_DATABASE is sqlite or postgres, not {other}"),
    }
}

/// A place of its own, removed when dropped.
pub struct Place {
    directory: Arc<TempDir>,
    database: Option<Database>,
    bucket: Option<Arc<Bucket>>,
    /// Where the way begins to the bucket, else to the database, if it is not the straight one.
    over: Option<SocketAddr>,
}

impl Place {
    pub fn new() -> Self {
        Self {
            directory: Arc::new(tempfile::tempdir().unwrap()),
            database: on_postgres().then(Database::create),
            bucket: on_s3().then(|| Arc::new(Bucket::create())),
            over: None,
        }
    }

    /// A place whose bucket, else whose database of PostgreSQL, is at the end of a cable.
    pub fn over_a_cable() -> (Self, Cable) {
        let place = Self::new();
        let end = if place.bucket.is_some() {
            End::Address(Bucket::address())
        } else {
            End::Socket(Path::new(&CLUSTER.socket).join(".s.PGSQL.5432"))
        };
        let cable = Cable::to(end);
        (Self { over: Some(cable.address()), ..place }, cable)
    }

    /// A place in a directory, such as on a disk of its own.
    pub fn within(parent: &Path) -> Self {
        Self { directory: Arc::new(tempfile::tempdir_in(parent).unwrap()), ..Self::new() }
    }

    /// A place with a database of its own whose packs go where those of this one are: into its bucket, else into its directory,
    /// which only PostgreSQL can share.
    pub fn with_the_same_packs(&self) -> Self {
        let other = Self::new();
        match &self.bucket {
            Some(bucket) => Self { bucket: Some(Arc::clone(bucket)), ..other },
            None => Self { directory: Arc::clone(&self.directory), ..other },
        }
    }

    /// Whether a blob is there.
    pub fn has_blob(&self, name: &str) -> bool {
        match &self.bucket {
            Some(bucket) => bucket.has(&format!("blobs/{name}")),
            None => self.path().join("blobs").join(name).exists(),
        }
    }

    pub fn path(&self) -> &Path {
        self.directory.path()
    }

    /// The options that make a server use it.
    pub fn options(&self) -> Vec<String> {
        let mut options = vec!["--data".to_owned(), self.path().to_str().unwrap().to_owned()];
        if let Some(database) = &self.database {
            let address = match self.over {
                Some(over) if self.bucket.is_none() => format!("postgres://postgres@{over}/{}", database.0),
                _ => address(&database.0),
            };
            options.extend(["--database".to_owned(), address]);
        }
        options
    }

    /// The environment that makes a server use it.
    pub fn environment(&self) -> Vec<(&'static str, String)> {
        let Some(bucket) = &self.bucket else { return Vec::new() };
        bucket.environment(&self.over.map_or_else(Bucket::address, |over| over.to_string()))
    }

    /// Puts a blob there that nobody speaks of.
    pub fn plant_blob(&self, name: &str, bytes: &[u8]) {
        match &self.bucket {
            Some(bucket) => bucket.put(&format!("blobs/{name}"), bytes.to_vec()),
            None => std::fs::write(self.path().join("blobs").join(name), bytes).unwrap(),
        }
    }

    /// Puts other bytes in the place of a blob, behind the back of whoever keeps it.
    pub fn spoil_blob(&self, sha256: &str) {
        self.plant_blob(sha256, b"not what was kept");
    }

    /// The same to a database that nobody has worked on.
    pub async fn open_new(&self) -> Records {
        if self.database.is_none() {
            std::fs::write(self.path().join("matchmark.db"), []).unwrap();
        }
        self.open().await
    }

    /// A connection like any other program's, with foreign keys off as SQLite has it by default.
    pub async fn open(&self) -> Records {
        match &self.database {
            Some(database) => Records::Postgres(PgConnection::connect(&address(&database.0)).await.unwrap()),
            None => {
                let options =
                    SqliteConnectOptions::new().filename(self.path().join("matchmark.db")).foreign_keys(false);
                Records::Sqlite(SqliteConnection::connect_with(&options).await.unwrap())
            }
        }
    }
}

/// Changes the bytes of a file.
pub fn change(path: &Path, how: impl FnOnce(&mut Vec<u8>)) {
    let mut bytes = std::fs::read(path).unwrap();
    how(&mut bytes);
    std::fs::write(path, bytes).unwrap();
}

/// What a server left in its database, seen past it.
pub enum Records {
    Sqlite(SqliteConnection),
    Postgres(PgConnection),
}

impl Records {
    /// The rows of a query for one column of text.
    pub async fn lines(&mut self, query: &'static str) -> Vec<String> {
        match self {
            Self::Sqlite(conn) => sqlx::query_scalar(query).fetch_all(conn).await.unwrap(),
            Self::Postgres(conn) => sqlx::query_scalar(query).fetch_all(conn).await.unwrap(),
        }
    }

    /// The same for a query that was put together; a value that is NULL is `None`.
    pub async fn values(&mut self, query: String) -> Vec<Option<String>> {
        let query = AssertSqlSafe(query);
        match self {
            Self::Sqlite(conn) => sqlx::query_scalar(query).fetch_all(conn).await.unwrap(),
            Self::Postgres(conn) => sqlx::query_scalar(query).fetch_all(conn).await.unwrap(),
        }
    }

    /// Takes away all that guards the tables, for this connection at least.
    pub async fn unguard(&mut self) {
        if on_postgres() {
            self.execute("SET session_replication_role = replica").await.unwrap();
            return;
        }
        for trigger in self.lines("SELECT name FROM sqlite_schema WHERE type = 'trigger'").await {
            self.run(format!("DROP TRIGGER {trigger}")).await.unwrap();
        }
        self.execute("PRAGMA ignore_check_constraints = ON").await.unwrap();
    }

    /// Brings in the steps of the schema up to this version.
    pub async fn migrate_to(&mut self, version: i64) {
        let steps: Vec<Migration> = steps().iter().filter(|step| step.version <= version).cloned().collect();
        let migrator = Migrator::with_migrations(steps);
        match self {
            Self::Sqlite(conn) => migrator.run(conn).await.unwrap(),
            Self::Postgres(conn) => migrator.run(conn).await.unwrap(),
        }
    }

    /// Runs a statement that was put together.
    pub async fn run(&mut self, statement: String) -> Result<(), sqlx::Error> {
        match self {
            Self::Sqlite(conn) => sqlx::query(AssertSqlSafe(statement)).execute(conn).await.map(drop),
            Self::Postgres(conn) => sqlx::query(AssertSqlSafe(statement)).execute(conn).await.map(drop),
        }
    }

    /// Runs a statement.
    pub async fn execute(&mut self, statement: &'static str) -> Result<(), sqlx::Error> {
        match self {
            Self::Sqlite(conn) => sqlx::query(statement).execute(conn).await.map(drop),
            Self::Postgres(conn) => sqlx::query(statement).execute(conn).await.map(drop),
        }
    }
}

static ON_SQLITE: Migrator = sqlx_macros::migrate!("../migrations/sqlite");
static ON_POSTGRES: Migrator = sqlx_macros::migrate!("../migrations/postgres");

/// The steps of the schema, as they lie in the folder.
fn steps() -> &'static Migrator {
    if on_postgres() { &ON_POSTGRES } else { &ON_SQLITE }
}

/// The versions of the schema in their order.
pub fn schema_versions() -> impl Iterator<Item = i64> {
    steps().iter().map(|step| step.version)
}

/// A database of its own, by name.
struct Database(String);

impl Database {
    fn create() -> Self {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let name = format!("test_{}", COUNT.fetch_add(1, Ordering::Relaxed));
        administer(format!("CREATE DATABASE {name}")).unwrap();
        Self(name)
    }
}

impl Drop for Database {
    fn drop(&mut self) {
        // The whole cluster goes soon.
        let _ = administer(format!("DROP DATABASE {} WITH (FORCE)", self.0));
    }
}

fn address(name: &str) -> String {
    format!("postgres:///{name}?host={}&user=postgres", CLUSTER.socket)
}

/// In a thread of its own, because the test may be in the middle of asynchronous work.
fn administer(statement: String) -> Result<(), sqlx::Error> {
    let work = async {
        let mut conn = PgConnection::connect(&address("postgres")).await?;
        sqlx::query(AssertSqlSafe(statement)).execute(&mut conn).await?;
        conn.close().await
    };
    let run = || tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap().block_on(work);
    std::thread::scope(|scope| scope.spawn(run).join().unwrap())
}

static CLUSTER: LazyLock<Cluster> = LazyLock::new(Cluster::start);

/// The one PostgreSQL of this run.
struct Cluster {
    socket: String,
    _keeper: Keeper,
}

impl Cluster {
    fn start() -> Self {
        let script = concat!(env!("CARGO_MANIFEST_DIR"), "/postgres");
        let (keeper, socket) = Keeper::start(&mut Command::new(script));
        Self { socket, _keeper: keeper }
    }
}

/// A process that serves tests and ends when this process does and the pipe between them closes.
pub struct Keeper {
    _process: Child,
}

impl Keeper {
    /// Starts it and returns the line it prints when it serves.
    pub fn start(command: &mut Command) -> (Self, String) {
        let mut keeper = command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
        let mut line = String::new();
        BufReader::new(keeper.stdout.take().unwrap()).read_line(&mut line).unwrap();
        assert!(!line.is_empty(), "{command:?} did not start");
        (Self { _process: keeper }, line.trim().to_owned())
    }
}
