//! Objects as files: written whole under another name, then renamed, each step made to last.

use super::{Group, OWNER, StoreError};
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use time::OffsetDateTime;

/// Before the name of a file on its way.
const NEW: &str = "new-";

/// A directory with a folder for each group.
#[derive(Debug, Clone)]
pub struct Folder(PathBuf);

impl Folder {
    /// Opens the directory and creates in it what is missing.
    pub fn open(directory: &Path) -> Result<Self, StoreError> {
        for group in Group::ALL {
            fs::create_dir_all(directory.join(group.name())).map_err(StoreError::Directory)?;
        }
        Ok(Self(directory.to_owned()))
    }

    pub async fn put(&self, group: Group, name: &str, bytes: Vec<u8>) -> Result<(), StoreError> {
        let (folder, name) = (self.0.join(group.name()), name.to_owned());
        tokio::task::spawn_blocking(move || write(&folder, &name, &bytes))
            .await
            .map_err(|error| StoreError::Directory(io::Error::other(error)))?
    }

    pub async fn owner(&self) -> Result<Option<Vec<u8>>, StoreError> {
        let path = self.0.join(OWNER);
        blocking(move || read(&path)).await
    }

    pub async fn claim(&self, name: Vec<u8>) -> Result<(), StoreError> {
        let folder = self.0.clone();
        blocking(move || {
            let mut file = tempfile::Builder::new().prefix(NEW).tempfile_in(&folder)?;
            file.write_all(&name)?;
            file.as_file().sync_all()?;
            match file.persist_noclobber(folder.join(OWNER)) {
                Err(refused) if refused.error.kind() != io::ErrorKind::AlreadyExists => Err(refused.error),
                _ => File::open(folder)?.sync_all(),
            }
        })
        .await
    }

    pub async fn disown(&self) -> Result<(), StoreError> {
        let path = self.0.join(OWNER);
        blocking(move || remove(&path)).await
    }

    pub async fn get(&self, group: Group, name: &str) -> Result<Option<Vec<u8>>, StoreError> {
        let path = self.0.join(group.name()).join(name);
        blocking(move || read(&path)).await
    }

    pub async fn has(&self, group: Group, name: &str) -> Result<bool, StoreError> {
        let path = self.0.join(group.name()).join(name);
        blocking(move || path.try_exists()).await
    }

    pub async fn remove(&self, group: Group, name: &str) -> Result<(), StoreError> {
        let path = self.0.join(group.name()).join(name);
        blocking(move || remove(&path)).await
    }

    pub async fn remove_unfinished(&self, before: OffsetDateTime) -> Result<usize, StoreError> {
        let folders = Group::ALL.map(|group| self.0.join(group.name()));
        blocking(move || {
            let mut removed = 0;
            for folder in folders {
                for name in aged(&folder, before)?.filter(|name| name.starts_with(NEW)) {
                    fs::remove_file(folder.join(name))?;
                    removed += 1;
                }
            }
            Ok(removed)
        })
        .await
    }

    pub async fn names(&self, group: Group) -> Result<Vec<String>, StoreError> {
        let folder = self.0.join(group.name());
        blocking(move || {
            let mut names = Vec::new();
            for entry in fs::read_dir(folder)? {
                let name = entry?.file_name().to_string_lossy().into_owned();
                if !name.starts_with(NEW) {
                    names.push(name);
                }
            }
            Ok(names)
        })
        .await
    }

    pub async fn ready(&self) -> Result<(), StoreError> {
        let folder = self.0.join(Group::Blobs.name());
        blocking(move || {
            let mut file = tempfile::Builder::new().prefix(NEW).tempfile_in(folder)?;
            file.write_all(b"ready")?;
            file.as_file().sync_all()
        })
        .await
    }
}

/// What in a folder was last written before this time; what goes while it is looked at is left out.
fn aged(folder: &Path, before: OffsetDateTime) -> io::Result<impl Iterator<Item = String>> {
    let look = move |entry: fs::DirEntry| {
        let facts = entry.metadata().ok()?;
        let old = OffsetDateTime::from(facts.modified().ok()?) < before;
        old.then(|| entry.file_name().to_string_lossy().into_owned())
    };
    Ok(fs::read_dir(folder)?.filter_map(Result::ok).filter_map(look))
}

fn read(path: &Path) -> io::Result<Option<Vec<u8>>> {
    match fs::read(path) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error),
    }
}

fn remove(path: &Path) -> io::Result<()> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
        _ => Ok(()),
    }
}

fn write(folder: &Path, name: &str, bytes: &[u8]) -> Result<(), StoreError> {
    let mut file = tempfile::Builder::new().prefix(NEW).tempfile_in(folder).map_err(StoreError::Directory)?;
    file.write_all(bytes).map_err(StoreError::Directory)?;
    sync(file.as_file())?;
    file.persist(folder.join(name)).map_err(|error| StoreError::Directory(error.error))?;
    sync(&File::open(folder).map_err(StoreError::Directory)?)
}

/// A full disk may show only now, and room can be made; any other failure leaves it open what is on the disk.
fn sync(file: &File) -> Result<(), StoreError> {
    file.sync_all().map_err(|error| match error.kind() {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => StoreError::Directory(error),
        _ => StoreError::NotSynced(error),
    })
}

async fn blocking<T: Send + 'static>(work: impl FnOnce() -> io::Result<T> + Send + 'static) -> Result<T, StoreError> {
    let done = tokio::task::spawn_blocking(work).await.map_err(io::Error::other);
    done.and_then(|done| done).map_err(StoreError::Directory)
}
