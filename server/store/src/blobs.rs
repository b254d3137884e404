//! Bytes kept under their SHA-256: written once, never changed.

use super::objects::{BlobsAt, Group, Objects};
use super::{Conn, StoreError, ownership};
use crate::hash::sha256_hex;
use std::path::Path;

/// Objects named by the hash of what they hold.
#[derive(Debug, Clone)]
pub struct Blobs(Objects);

impl Blobs {
    /// Blobs among these objects.
    pub fn among(objects: Objects) -> Self {
        Self(objects)
    }

    /// The blobs kept there; a directory must exist.
    pub fn at(place: &BlobsAt, directory: &Path) -> Result<Self, StoreError> {
        Ok(Self(Objects::open(place, directory)?))
    }

    /// Refuses a place that is another database's than the one that the connection is to.
    pub async fn must_be_of(&self, conn: &mut Conn) -> Result<(), StoreError> {
        ownership::must_be_ours(conn, &self.0).await
    }

    /// Whether there is a blob with this hash, whatever is in it.
    pub async fn has(&self, sha256: &str) -> Result<bool, StoreError> {
        self.0.has(Group::Blobs, sha256).await
    }

    /// The bytes with this hash, proven to have it.
    pub async fn read(&self, sha256: &str) -> Result<Vec<u8>, StoreError> {
        let Some(bytes) = self.0.get(Group::Blobs, sha256).await? else {
            return Err(StoreError::Damaged(sha256.to_owned()));
        };
        let (found, bytes) = blocking(move || (sha256_hex(&bytes), bytes)).await?;
        if found == sha256 { Ok(bytes) } else { Err(StoreError::Damaged(sha256.to_owned())) }
    }
}

/// Hashes megabytes off the threads that serve.
async fn blocking<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> Result<T, StoreError> {
    tokio::task::spawn_blocking(work).await.map_err(|error| StoreError::Directory(std::io::Error::other(error)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[tokio::test]
    async fn a_changed_byte_is_noticed_and_never_served() {
        let directory = tempfile::tempdir().unwrap();
        let blobs = Blobs::at(&BlobsAt::Directory, directory.path()).unwrap();
        let hash = sha256_hex(b"cut here");
        blobs.0.put(Group::Blobs, &hash, b"cut here".to_vec()).await.unwrap();
        assert_eq!(blobs.read(&hash).await.unwrap(), b"cut here");
        std::fs::write(directory.path().join("blobs").join(&hash), b"cut hare").unwrap();
        assert!(matches!(blobs.read(&hash).await, Err(StoreError::Damaged(_))));
    }
}
