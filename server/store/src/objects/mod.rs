//! Named bytes beside the database: in the data directory, or in a bucket of an S3-compatible store. Once [`Objects::put`] has
//! returned they would survive a power cut.

mod bucket;
mod folder;

pub use bucket::Bucket;

use super::StoreError;
use bucket::BucketObjects;
use folder::Folder;
use std::path::Path;
use time::OffsetDateTime;

/// Where they are to be.
#[derive(Debug, Clone)]
pub enum BlobsAt {
    /// In the data directory.
    Directory,
    /// In a bucket.
    Bucket(Bucket),
}

/// What an object is, and the folder or prefix that it lies under.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Group {
    /// Files of packs and their accounts.
    Blobs,
    /// Which customers were erased.
    Erasures,
}

impl Group {
    /// All groups.
    pub const ALL: [Self; 2] = [Self::Blobs, Self::Erasures];

    /// Its folder.
    pub fn name(self) -> &'static str {
        match self {
            Self::Blobs => "blobs",
            Self::Erasures => "erasures",
        }
    }
}

/// The object that says whose the place is.
const OWNER: &str = "database";

/// A place for objects.
#[derive(Debug, Clone)]
pub enum Objects {
    Folder(Folder),
    Bucket(BucketObjects),
}

impl Objects {
    /// Opens the place; a directory is created where it is missing, a bucket must be there.
    pub fn open(at: &BlobsAt, directory: &Path) -> Result<Self, StoreError> {
        Ok(match at {
            BlobsAt::Directory => Self::Folder(Folder::open(directory)?),
            BlobsAt::Bucket(bucket) => Self::Bucket(BucketObjects::open(bucket)?),
        })
    }

    /// Keeps an object; one of the same name is replaced.
    pub async fn put(&self, group: Group, name: &str, bytes: Vec<u8>) -> Result<(), StoreError> {
        match self {
            Self::Folder(folder) => folder.put(group, name, bytes).await,
            Self::Bucket(bucket) => bucket.put(group, name, bytes).await,
        }
    }

    /// An object, if it is there.
    pub async fn get(&self, group: Group, name: &str) -> Result<Option<Vec<u8>>, StoreError> {
        match self {
            Self::Folder(folder) => folder.get(group, name).await,
            Self::Bucket(bucket) => bucket.get(group, name).await,
        }
    }

    /// Whether an object is there.
    pub async fn has(&self, group: Group, name: &str) -> Result<bool, StoreError> {
        match self {
            Self::Folder(folder) => folder.has(group, name).await,
            Self::Bucket(bucket) => bucket.has(group, name).await,
        }
    }

    /// Takes an object away; one that is not there is no error.
    pub async fn remove(&self, group: Group, name: &str) -> Result<(), StoreError> {
        match self {
            Self::Folder(folder) => folder.remove(group, name).await,
            Self::Bucket(bucket) => bucket.remove(group, name).await,
        }
    }

    /// Takes away what was begun before this time and never finished, and says how many that were; a bucket has none.
    pub async fn remove_unfinished(&self, before: OffsetDateTime) -> Result<usize, StoreError> {
        match self {
            Self::Folder(folder) => folder.remove_unfinished(before).await,
            Self::Bucket(_) => Ok(0),
        }
    }

    /// The names of a group in their order.
    pub async fn names(&self, group: Group) -> Result<Vec<String>, StoreError> {
        let mut names = match self {
            Self::Folder(folder) => folder.names(group).await?,
            Self::Bucket(bucket) => bucket.names(group).await?,
        };
        names.sort_unstable();
        Ok(names)
    }

    /// Whether there is nothing in a group.
    pub async fn is_empty(&self, group: Group) -> Result<bool, StoreError> {
        match self {
            Self::Folder(folder) => folder.names(group).await.map(|names| names.is_empty()),
            Self::Bucket(bucket) => bucket.is_empty(group).await,
        }
    }

    /// The database whose place it is; none when nobody's name is on it.
    pub async fn owner(&self) -> Result<Option<String>, StoreError> {
        let name = match self {
            Self::Folder(folder) => folder.owner().await?,
            Self::Bucket(bucket) => bucket.owner().await?,
        };
        Ok(name.map(|name| String::from_utf8_lossy(&name).trim().to_owned()))
    }

    /// Puts a name on it, unless there is one.
    pub async fn claim(&self, database: &str) -> Result<(), StoreError> {
        let name = format!("{database}\n").into_bytes();
        match self {
            Self::Folder(folder) => folder.claim(name).await,
            Self::Bucket(bucket) => bucket.claim(name).await,
        }
    }

    /// Takes the name off.
    pub async fn disown(&self) -> Result<(), StoreError> {
        match self {
            Self::Folder(folder) => folder.disown().await,
            Self::Bucket(bucket) => bucket.disown().await,
        }
    }

    /// Whether something can be written.
    pub async fn ready(&self) -> Result<(), StoreError> {
        match self {
            Self::Folder(folder) => folder.ready().await,
            Self::Bucket(bucket) => bucket.ready().await,
        }
    }
}
