//! A backup: a folder with the database of one moment, every blob that it speaks of, the list of erasures and the signing key.
//! It gets its name when all of it would survive a power cut.

mod database;
mod folder;
mod tables;

pub use folder::{check, names};

use super::objects::{BlobsAt, Group, Objects};
use super::signing_keys::{self, Purpose};
use super::{Blobs, StoreError, full_scan, ownership, private, snapshot};
use database::Engine;
use folder::{Digested, Folder};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use std::fs::File;
use std::path::Path;
use tables::Table;

const FORMAT: &str = "matchmark-backup/1";

/// The file that says what the others are.
const ACCOUNT: &str = "backup.json";

/// Name of the signing key in a backup, as in a data directory.
const SIGNING_KEY: &str = "signing.key";

/// What a backup is.
#[derive(Debug, Serialize, Deserialize)]
pub struct Account {
    /// `matchmark-backup/1`.
    format: String,
    /// Version that took it.
    matchmark: String,
    /// What the database was kept by.
    engine: Engine,
    /// When it was begun, RFC 3339 in UTC.
    taken_at: String,
    /// Versions of the schema.
    schema: Vec<i64>,
    /// Tables of PostgreSQL, each after those that it refers to; none for SQLite.
    tables: Vec<Table>,
    /// All files but this and the blobs.
    files: Vec<Digested>,
    /// How many blobs there are.
    blobs: usize,
    /// Blobs that were missing or damaged when it was taken.
    damaged: Vec<String>,
}

/// Where the things are that are backed up or brought back.
#[derive(Debug, Clone, Copy)]
pub struct Storage<'a> {
    /// The data directory.
    pub directory: &'a Path,
    /// Address of a database of PostgreSQL.
    pub address: Option<&'a str>,
    /// Where the blobs are.
    pub blobs: &'a BlobsAt,
}

/// The key that signs pages.
#[derive(Debug, Clone, Copy)]
pub struct Key<'a> {
    /// The text that is kept.
    pub secret: &'a str,
    /// Its public half, 64 hexadecimal digits.
    pub public: &'a str,
}

/// What was done, for those who look on.
#[derive(Debug)]
pub struct Done {
    /// How many blobs.
    pub blobs: usize,
    /// Those that were missing or damaged.
    pub damaged: Vec<String>,
}

/// Takes a backup while others work. `to` must not be there yet, and is there only when all is well in it.
pub async fn take(kept: Storage<'_>, key: Key<'_>, taken_at: &str, to: &Path) -> Result<Done, StoreError> {
    let folder = Folder::create(to)?;
    let mut conn = snapshot::open(kept.directory, kept.address).await?;
    let objects = Objects::open(kept.blobs, kept.directory)?;
    ownership::must_be_ours(&mut conn, &objects).await?;
    // With another key what is signed would be unknown after it is brought back.
    signing_keys::must_be_in_force(&mut conn, Purpose::Pages, key.public).await?;
    let schema = super::probe::schema(&mut conn).await?;
    let mut files = Vec::new();
    let (engine, tables) = database::take_out(&mut conn, &folder, &mut files).await?;
    let named = named_blobs(&mut conn).await?;
    drop(conn);

    // Whoever was erased before the snapshot is on the list by now.
    for customer in objects.names(Group::Erasures).await? {
        let said = objects.get(Group::Erasures, &customer).await?.unwrap_or_default();
        files.push(folder.write(&format!("{}/{customer}", Group::Erasures.name()), &said)?);
    }
    files.push(folder.write(SIGNING_KEY, key.secret.as_bytes())?);
    let blobs = Blobs::among(objects);
    let mut damaged = Vec::new();
    for sha256 in &named {
        match blobs.read(sha256).await {
            Ok(bytes) => drop(folder.write(&format!("{}/{sha256}", Group::Blobs.name()), &bytes)?),
            Err(StoreError::Damaged(_)) => damaged.push(sha256.clone()),
            Err(error) => return Err(error),
        }
    }
    let done = Done { blobs: named.len() - damaged.len(), damaged: damaged.clone() };
    let account = Account {
        format: FORMAT.to_owned(),
        matchmark: env!("CARGO_PKG_VERSION").to_owned(),
        engine,
        taken_at: taken_at.to_owned(),
        schema,
        tables,
        files,
        blobs: done.blobs,
        damaged,
    };
    let text = serde_json::to_vec_pretty(&account).map_err(|error| StoreError::Directory(error.into()))?;
    folder.write(ACCOUNT, &text)?;
    folder.finish(to)?;
    Ok(done)
}

/// How a backup is brought back.
#[derive(Debug, Clone, Copy)]
pub struct Manner {
    /// The signing key is kept elsewhere than in the data directory.
    pub keep_key: bool,
    /// Packs that are there already belong to a database that is lost.
    pub take_over: bool,
}

/// Name of the file that is there as long as a restore is not finished.
const UNFINISHED: &str = "restore-unfinished";

/// Refuses a data directory into which a restore was not finished.
pub fn must_be_whole(directory: &Path) -> Result<(), StoreError> {
    if directory.join(UNFINISHED).exists() { Err(StoreError::RestoreBrokeOff(directory.to_owned())) } else { Ok(()) }
}

/// Says that a restore is finished.
pub fn finished(directory: &Path) -> Result<(), StoreError> {
    let remove = || {
        std::fs::remove_file(directory.join(UNFINISHED))?;
        File::open(directory)?.sync_all()
    };
    remove().map_err(StoreError::Directory)
}

fn begin(directory: &Path) -> Result<(), StoreError> {
    let write = || {
        private::file(&directory.join(UNFINISHED))?;
        File::open(directory)?.sync_all()
    };
    write().map_err(StoreError::Directory)
}

/// Brings a backup that was checked back into an empty place, where no database may be, and says when it was taken. Until
/// [`finished`] is called the place counts as broken.
pub async fn bring_back(kept: Storage<'_>, manner: Manner, from: &Path) -> Result<String, StoreError> {
    let account = folder::account(from)?;
    database::must_be_empty(kept, account.engine).await?;
    let objects = Objects::open(kept.blobs, kept.directory)?;
    let owner = objects.owner().await?;
    // What a restore that broke off left there is of the same backup.
    let strange = must_be_whole(kept.directory).is_ok() && !objects.is_empty(Group::Blobs).await?;
    if !manner.take_over && (owner.is_some() || strange) {
        return Err(StoreError::StoreTaken(owner));
    }
    begin(kept.directory)?;
    let key = kept.directory.join(SIGNING_KEY);
    if !manner.keep_key {
        folder::install(&from.join(SIGNING_KEY), &key)?;
    }
    for group in Group::ALL {
        for name in names(&from.join(group.name()))? {
            let bytes = folder::read(&from.join(group.name()).join(&name))?;
            objects.put(group, &name, bytes).await?;
        }
    }
    database::bring_in(kept, &account, from).await?;
    Ok(account.taken_at)
}

/// The hashes of all blobs that packs speak of.
async fn named_blobs(conn: &mut super::Conn) -> Result<BTreeSet<String>, StoreError> {
    let packs = full_scan::packs(conn).await?;
    let hashes = packs.into_iter().flat_map(|pack| [pack.sha256, pack.manifest_sha256]);
    Ok(hashes.filter(|sha256| !sha256.is_empty()).collect())
}
