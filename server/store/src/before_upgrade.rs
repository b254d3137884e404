//! Copies of the file of SQLite as it was before steps of the schema were brought in, for whoever must go back to the version before.

use super::{Conn, StoreError, private, sqlite};
use sqlx::sqlite::SqlitePool;
use std::fs::{self, File};
use std::io;
use std::path::Path;

/// Name of their folder in the data directory.
pub const FOLDER: &str = "before-upgrade";

/// Keeps a copy where there are steps to bring in to what is there already. Without one that is whole none is to be brought in.
pub async fn keep(writer: &SqlitePool, directory: &Path) -> Result<(), StoreError> {
    let Some(last) = last_step(writer).await? else {
        return Ok(());
    };
    if sqlite::MIGRATIONS.iter().all(|step| step.version <= last) {
        return Ok(());
    }
    let folder = directory.join(FOLDER);
    let (unfinished, kept) = (folder.join("unfinished.db"), folder.join(format!("schema-{last}.db")));
    make_room(&folder, &unfinished).map_err(StoreError::Directory)?;
    sqlx::query("VACUUM INTO $1").bind(unfinished.to_string_lossy().into_owned()).execute(writer).await?;
    let mut copy = Conn::SqliteReader(sqlite::beside(&unfinished).await?);
    let damage = sqlite::damage(&mut copy).await?;
    drop(copy);
    if !damage.is_empty() {
        return Err(StoreError::NoUpgrade(damage.join("; ")));
    }
    finish(&folder, &unfinished, &kept, directory).map_err(StoreError::Directory)?;
    tracing::info!(copy = %kept.display(), "a copy of the database was kept before its schema is brought up to date");
    Ok(())
}

/// Removes all of them: they hold what was deleted since.
pub fn forget(folder: &Path) -> Result<(), StoreError> {
    let removed = match fs::remove_dir_all(folder) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
        removed => removed,
    };
    removed.map_err(StoreError::Directory)
}

/// The last step of the schema that was brought in; `None` for a new file.
async fn last_step(writer: &SqlitePool) -> Result<Option<i64>, StoreError> {
    let steps = "SELECT COUNT(*) FROM sqlite_schema WHERE name = '_sqlx_migrations'";
    let tables: i64 = sqlx::query_scalar(steps).fetch_one(writer).await?;
    if tables == 0 {
        return Ok(None);
    }
    Ok(sqlx::query_scalar("SELECT MAX(version) FROM _sqlx_migrations").fetch_one(writer).await?)
}

fn make_room(folder: &Path, unfinished: &Path) -> io::Result<()> {
    private::folder(folder)?;
    match fs::remove_file(unfinished) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
        _ => private::file(unfinished),
    }
}

/// Makes it last, by its name.
fn finish(folder: &Path, unfinished: &Path, kept: &Path, directory: &Path) -> io::Result<()> {
    File::open(unfinished)?.sync_all()?;
    fs::rename(unfinished, kept)?;
    File::open(folder)?.sync_all()?;
    File::open(directory)?.sync_all()
}
