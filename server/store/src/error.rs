//! What can go wrong with what is kept.

use std::io;
use std::path::PathBuf;

/// A store that could not do what was asked of it. A missing row is no error but `None`.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// A row with this key is there already.
    #[error("a row with this key exists already")]
    Duplicate,
    /// A row that is referred to does not exist.
    #[error("a referenced row does not exist")]
    Dangling,
    /// What was written may not be on the disk, and trying again would hide that.
    #[error("the disk did not confirm a write: {0}")]
    NotSynced(#[source] io::Error),
    /// Hardly any room is left.
    #[error("{free} bytes of disk are free, less than the {least} of min-free-disk")]
    DiskLow {
        /// Bytes left.
        free: u64,
        /// Bytes wanted.
        least: u64,
    },
    /// Removing blobs took so long that others waited.
    #[error("orphaned blobs could not be removed in time")]
    SweepTooSlow,
    /// Text with a character that no database column takes.
    #[error("text must not hold the character U+0000")]
    NulInText,
    /// Something was to be put on record outside a write.
    #[error("only a write can go on record")]
    NotAWrite,
    /// Others write, and this one waited in vain.
    #[error("the database is busy: {0}")]
    Busy(#[source] sqlx::Error),
    /// There is no way to the database at present.
    #[error("the database cannot be reached: {0}")]
    DatabaseAway(#[source] sqlx::Error),
    /// There is no way to the place of the blobs at present.
    #[error("the store of issued packs cannot be reached: {0}")]
    ObjectsAway(#[source] object_store::Error),
    /// The address of a database is none.
    #[error("the database address must begin with postgres:// or postgresql://")]
    NotPostgres,
    /// Another process works on the data directory.
    #[error("another matchmark process uses this data directory; stop it or name another directory with --data")]
    InUse,
    /// The data directory could not be used.
    #[error("the data directory cannot be used: {0}")]
    Directory(#[source] io::Error),
    /// The place of the blobs does not let us in, or there is none of that name.
    #[error("the store of issued packs refuses access: check s3-bucket, s3-key-id and s3-secret: {0}")]
    ObjectsClosed(#[source] object_store::Error),
    /// The place of the blobs is another database's.
    #[error(
        "the packs kept there belong to another database ({owner}), not to this one ({ours}): name a data directory or a bucket \
         of its own. Where that database is lost, restore its backup with `matchmark restore --take-over`"
    )]
    OtherStore {
        /// Whose it is.
        owner: String,
        /// Who asked.
        ours: String,
    },
    /// The place of the blobs says nothing of whose it is, and none of them is known.
    #[error(
        "there are packs already where those of this new database should go, and it knows nothing of them: name an empty data \
         directory or bucket, or restore the database that they belong to with `matchmark restore --take-over`"
    )]
    StrangeStore,
    /// A restore that would go into a place with packs in it.
    #[error(
        "there are packs already where those of the backup should go{}: name an empty data directory or bucket. Only where \
         the database that they belong to is lost for good, take them over with --take-over",
        .0.as_ref().map(|owner| format!(", those of database {owner}")).unwrap_or_default()
    )]
    StoreTaken(Option<String>),
    /// A restore that was not finished.
    #[error("a restore into {0} broke off: empty the place and restore again")]
    RestoreBrokeOff(PathBuf),
    /// The place of the blobs refused or failed.
    #[error("the store of issued packs failed: {0}")]
    Objects(#[source] object_store::Error),
    /// Another key than the one that the service signs with.
    #[error(
        "the key of {purpose} at hand ({at_hand}...) is not the one that this service signs with ({in_force}...), so that what it \
         signs would be unknown to others: give this process the same one, as signing.key in its data directory or with \
         signing-key and status-key. To change keys on purpose, stop every process, then run `matchmark adopt-key` with the new ones"
    )]
    OtherKey {
        /// What it signs.
        purpose: &'static str,
        /// The beginning of the public key at hand.
        at_hand: String,
        /// That of the one in force.
        in_force: String,
    },
    /// A key that was revoked.
    #[error(
        "the key of {purpose} at hand ({public_key}...) was revoked, and nothing is signed with it: make a new one with `matchmark \
         key`, give it to every process, and put it in force with `matchmark adopt-key`"
    )]
    RevokedKey {
        /// What it signed.
        purpose: &'static str,
        /// The beginning of the public key.
        public_key: String,
    },
    /// A database that nobody has worked on.
    #[error("the database is empty; start `matchmark serve` on it once, or name another")]
    NothingThere,
    /// A database that is not brought up to date.
    #[error(
        "the database is damaged and stays as it is: {0}. Look at all of it with `matchmark verify` of the version before, \
         or restore a backup"
    )]
    NoUpgrade(String),
    /// A step of the schema is not there.
    #[error("step {0} of the database schema is missing; start `matchmark serve` again to apply it")]
    SchemaLacks(i64),
    /// The write-ahead log could not be emptied.
    #[error(
        "the database is being read all the time, so its log still holds what was erased; the log goes when the service stops"
    )]
    NotForgotten,
    /// There is no database.
    #[error("there is no database {0}; name the data directory with --data or the database with --database")]
    NoDatabase(PathBuf),
    /// A file could not be read or written.
    #[error("{path}: {source}")]
    File {
        /// Which.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// Backups are not written over each other.
    #[error("{0} exists already; name a new folder for each backup")]
    BackupThere(PathBuf),
    /// A folder that is no backup.
    #[error("{0} holds no backup that this version can read: its backup.json is not an account of one")]
    NoBackup(PathBuf),
    /// A file that is there already where one of a backup should go.
    #[error("{0} exists already; restore a backup into an empty place")]
    InTheWay(PathBuf),
    /// Tables that are there already where those of a backup should go.
    #[error("the database already has tables; restore a backup into an empty one")]
    DatabaseInTheWay,
    /// The place is for another engine than the backup.
    #[error("the backup is one of {0}")]
    OtherEngine(&'static str),
    /// Tables that refer to each other in a circle.
    #[error("tables refer to one another in a circle")]
    Circle,
    /// A stored pack is missing or not what its record says.
    #[error("the stored pack {0} is missing or damaged")]
    Damaged(String),
    /// A stored value that this version does not know.
    #[error("table {table} holds an unknown {column}: {value}")]
    Inconsistent {
        /// Table.
        table: &'static str,
        /// Column.
        column: &'static str,
        /// What was found.
        value: String,
    },
    /// The schema is that of a later version.
    #[error(
        "the database has step {0} of its schema, which this version does not know: start the later version instead"
    )]
    NewerSchema(i64),
    /// The schema could not be brought up to date.
    #[error("the database schema could not be brought up to date: {0}")]
    Migration(#[source] sqlx::migrate::MigrateError),
    /// The database refused or failed.
    #[error("the database failed: {0}")]
    Database(#[source] sqlx::Error),
}

/// How a disk failed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DiskFault {
    /// It is full.
    Full,
    /// It refuses to read or write.
    Broken,
    /// It did not confirm that what was written is there.
    NotSynced,
}

/// SQLSTATE of a full disk; result code of SQLite for the same.
const FULL: [&str; 2] = ["53100", "13"];

/// SQLSTATE of a disk that fails.
const BROKEN: &str = "58030";

/// Result code of SQLite for a disk that fails, the lower eight bits of its many kinds, and for a file that cannot be opened.
const SQLITE_IOERR: i64 = 10;
const SQLITE_CANTOPEN: i64 = 14;

/// Kinds of SQLite's for a file and for a directory that were not synchronised.
const SQLITE_IOERR_FSYNC: i64 = 1034;
const SQLITE_IOERR_DIR_FSYNC: i64 = 1290;

/// The number of a system call's error for a disk that fails.
const EIO: i32 = 5;

impl StoreError {
    /// Whether the place of the blobs, which may be elsewhere, could not be reached or did not do what was asked of it.
    pub fn is_of_objects(&self) -> bool {
        matches!(self, Self::ObjectsAway(_) | Self::ObjectsClosed(_) | Self::Objects(_))
    }

    /// How a disk failed, if that is what happened.
    pub fn disk_fault(&self) -> Option<DiskFault> {
        match self {
            Self::Directory(error) | Self::File { source: error, .. } => match error.kind() {
                io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Some(DiskFault::Full),
                _ => (error.raw_os_error() == Some(EIO)).then_some(DiskFault::Broken),
            },
            Self::NotSynced(_) => Some(DiskFault::NotSynced),
            Self::Database(sqlx::Error::Database(error)) => {
                let code = error.code()?;
                if FULL.contains(&&*code) {
                    return Some(DiskFault::Full);
                }
                if code == BROKEN {
                    return Some(DiskFault::Broken);
                }
                // The codes of PostgreSQL have five characters, those of SQLite are numbers of up to four.
                let code: i64 = code.parse().ok().filter(|_| code.len() < 5)?;
                match code {
                    SQLITE_IOERR_FSYNC | SQLITE_IOERR_DIR_FSYNC => Some(DiskFault::NotSynced),
                    _ => [SQLITE_IOERR, SQLITE_CANTOPEN].contains(&(code & 0xff)).then_some(DiskFault::Broken),
                }
            }
            _ => None,
        }
    }
}

/// SQLSTATE of a serialisation failure, a deadlock and a lock not got in time; result code of SQLite for the last.
const BUSY: [&str; 4] = ["40001", "40P01", "55P03", "5"];

/// SQLSTATE of a server that stops, was stopped, starts, or has no connection free; those of connections that fail begin with
/// the class (Appendix A of the documentation of PostgreSQL).
const AWAY: [&str; 4] = ["57P01", "57P02", "57P03", "53300"];
const CONNECTION_FAILED: &str = "08";

impl From<sqlx::Error> for StoreError {
    fn from(error: sqlx::Error) -> Self {
        match &error {
            sqlx::Error::PoolTimedOut => return Self::Busy(error),
            sqlx::Error::Database(database) => {
                if database.is_unique_violation() {
                    return Self::Duplicate;
                }
                if database.is_foreign_key_violation() {
                    return Self::Dangling;
                }
                let code = database.code().unwrap_or_default();
                if BUSY.contains(&&*code) {
                    return Self::Busy(error);
                }
                if AWAY.contains(&&*code) || (code.len() == 5 && code.starts_with(CONNECTION_FAILED)) {
                    return Self::DatabaseAway(error);
                }
            }
            // A connection that ends in the middle of a greeting reads as a breach of protocol.
            sqlx::Error::Io(_) | sqlx::Error::Protocol(_) => return Self::DatabaseAway(error),
            _ => {}
        }
        Self::Database(error)
    }
}

impl From<object_store::Error> for StoreError {
    /// What the store did not say no to by a name of its own is a connection that failed or a store that is ill.
    fn from(error: object_store::Error) -> Self {
        match error {
            object_store::Error::Generic { .. } => Self::ObjectsAway(error),
            // Whoever asks for an object that may be missing has looked for that before.
            object_store::Error::Unauthenticated { .. }
            | object_store::Error::PermissionDenied { .. }
            | object_store::Error::NotFound { .. } => Self::ObjectsClosed(error),
            error => Self::Objects(error),
        }
    }
}

impl From<sqlx::migrate::MigrateError> for StoreError {
    fn from(error: sqlx::migrate::MigrateError) -> Self {
        match error {
            sqlx::migrate::MigrateError::VersionMissing(version) => Self::NewerSchema(version),
            error => Self::Migration(error),
        }
    }
}
