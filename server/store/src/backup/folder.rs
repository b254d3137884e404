//! The files of a backup: written under a temporary name, checked, read.

use super::{ACCOUNT, Account, FORMAT, StoreError};
use crate::hash::sha256_hex;
use crate::objects::Group;
use crate::private;
use data_encoding::HEXLOWER;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::fs::{self, File, Permissions};
use std::io::{self, Read, Write};
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// A file and what it holds.
#[derive(Debug, Serialize, Deserialize)]
pub struct Digested {
    /// Path within the backup.
    name: String,
    /// SHA-256 of its bytes.
    sha256: String,
}

/// Before the name of a backup on its way.
const UNFINISHED: &str = ".unfinished-backup-";

/// A backup on its way: removed again unless it is finished, by the next one if this process is killed.
pub struct Folder {
    folder: TempDir,
    /// Held as long as this process works on it.
    _lock: File,
}

impl Folder {
    /// Begins one beside `to`, which must not be there, and removes what others that were killed left there.
    pub fn create(to: &Path) -> Result<Self, StoreError> {
        if to.exists() {
            return Err(StoreError::BackupThere(to.to_owned()));
        }
        let begin = || {
            let beside = parent(to);
            // No other one may look between the folder's being there and its lock.
            let turn = File::open(beside)?;
            turn.lock()?;
            remove_left_over(beside)?;
            let private = Permissions::from_mode(private::FOLDER);
            let folder = tempfile::Builder::new().prefix(UNFINISHED).permissions(private).tempdir_in(beside)?;
            let lock = File::open(folder.path())?;
            lock.lock()?;
            Ok(Self { folder, _lock: lock })
        };
        begin().map_err(of_file(to))
    }

    /// Where a file of it is to be, in a folder that is there.
    pub fn path(&self, name: &str) -> Result<PathBuf, StoreError> {
        let path = self.folder.path().join(name);
        if let Some(parent) = path.parent() {
            private::folder(parent).map_err(of_file(parent))?;
        }
        Ok(path)
    }

    /// Where an empty file of it is, for something else to fill.
    pub fn file(&self, name: &str) -> Result<PathBuf, StoreError> {
        let path = self.path(name)?;
        private::file(&path).map_err(of_file(&path))?;
        Ok(path)
    }

    /// Writes a file that lasts.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<Digested, StoreError> {
        let path = self.path(name)?;
        write(&path, bytes).map_err(of_file(&path))?;
        Ok(Digested { name: name.to_owned(), sha256: sha256_hex(bytes) })
    }

    /// Makes a file last that something else has written.
    pub fn adopt(&self, name: &str) -> Result<Digested, StoreError> {
        let path = self.path(name)?;
        File::open(&path).and_then(|file| file.sync_all()).map_err(of_file(&path))?;
        Ok(Digested { name: name.to_owned(), sha256: hash_of(&path).map_err(of_file(&path))? })
    }

    /// Gives it its name.
    pub fn finish(self, to: &Path) -> Result<(), StoreError> {
        let rename = || {
            for group in Group::ALL {
                let folder = self.folder.path().join(group.name());
                private::folder(&folder)?;
                sync(&folder)?;
            }
            sync(self.folder.path())?;
            fs::rename(self.folder.path(), to)?;
            sync(parent(to))
        };
        rename().map_err(of_file(to))
    }
}

/// Removes what backups that were killed left in a folder; those that are worked on hold their lock.
fn remove_left_over(folder: &Path) -> io::Result<()> {
    for entry in fs::read_dir(folder)?.filter_map(Result::ok) {
        let unfinished = entry.file_name().to_string_lossy().starts_with(UNFINISHED);
        if unfinished && File::open(entry.path()).is_ok_and(|left| left.try_lock().is_ok()) {
            fs::remove_dir_all(entry.path())?;
        }
    }
    Ok(())
}

fn parent(path: &Path) -> &Path {
    path.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// The account of a backup.
pub fn account(backup: &Path) -> Result<Account, StoreError> {
    let text = read(&backup.join(ACCOUNT))?;
    let account: Account = serde_json::from_slice(&text).map_err(|_| StoreError::NoBackup(backup.to_owned()))?;
    if account.format == FORMAT { Ok(account) } else { Err(StoreError::NoBackup(backup.to_owned())) }
}

/// Reads every file of a backup and says what is wrong, a sentence each; nothing when it is whole.
pub fn check(backup: &Path) -> Result<Vec<String>, StoreError> {
    let account = account(backup)?;
    let mut faults: Vec<String> =
        account.damaged.iter().map(|sha256| format!("blob {sha256} was missing when the backup was taken")).collect();
    for file in &account.files {
        match hash_of(&backup.join(&file.name)) {
            Ok(sha256) if sha256 == file.sha256 => {}
            Ok(_) => faults.push(format!("{} has changed since it was written", file.name)),
            Err(error) => faults.push(format!("{} cannot be read: {error}", file.name)),
        }
    }
    let folder = backup.join(Group::Blobs.name());
    let names = match names(&folder) {
        Ok(names) => names,
        Err(error) => {
            faults.push(format!("the folder of blobs cannot be read: {error}"));
            return Ok(faults);
        }
    };
    if names.len() != account.blobs {
        faults.push(format!("there are {} blobs instead of {}", names.len(), account.blobs));
    }
    for name in names {
        match hash_of(&folder.join(&name)) {
            Ok(sha256) if sha256 == name => {}
            Ok(_) => faults.push(format!("blob {name} has changed since it was written")),
            Err(error) => faults.push(format!("blob {name} cannot be read: {error}")),
        }
    }
    Ok(faults)
}

/// Names of the files in a folder.
pub fn names(folder: &Path) -> Result<Vec<String>, StoreError> {
    let list = || -> io::Result<Vec<String>> {
        let mut names = Vec::new();
        for entry in fs::read_dir(folder)? {
            names.push(entry?.file_name().to_string_lossy().into_owned());
        }
        names.sort_unstable();
        Ok(names)
    };
    list().map_err(of_file(folder))
}

/// An error that names the file or folder that it is about.
fn of_file(path: &Path) -> impl FnOnce(io::Error) -> StoreError {
    let path = path.to_owned();
    move |source| StoreError::File { path, source }
}

/// A whole file.
pub fn read(path: &Path) -> Result<Vec<u8>, StoreError> {
    fs::read(path).map_err(of_file(path))
}

/// Copies a file under another name first, so that it is there whole or not at all. One that is there already must be the same.
pub fn install(from: &Path, to: &Path) -> Result<(), StoreError> {
    if to.exists() {
        return if read(from)? == read(to)? { Ok(()) } else { Err(StoreError::InTheWay(to.to_owned())) };
    }
    let copy = || {
        let folder = to.parent().unwrap_or(Path::new("."));
        let mut file = tempfile::Builder::new().prefix("new-").tempfile_in(folder)?;
        io::copy(&mut File::open(from)?, file.as_file_mut())?;
        file.as_file().sync_all()?;
        file.persist(to)?;
        sync(folder)
    };
    copy().map_err(of_file(to))
}

fn write(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = private::new_file(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

fn sync(folder: &Path) -> io::Result<()> {
    File::open(folder)?.sync_all()
}

fn hash_of(path: &Path) -> io::Result<String> {
    let mut file = File::open(path)?;
    let (mut hash, mut buffer) = (Sha256::new(), vec![0; 1 << 16]);
    loop {
        let read = file.read(&mut buffer)?;
        if read == 0 {
            return Ok(HEXLOWER.encode(&hash.finalize()));
        }
        hash.update(&buffer[..read]);
    }
}
