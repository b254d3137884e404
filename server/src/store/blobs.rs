//! Bytes kept as files named by their SHA-256: written once, never changed.

use super::StoreError;
use crate::hash::sha256_hex;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// A directory of files named by the hash of what they hold.
#[derive(Debug, Clone)]
pub struct Blobs {
    directory: PathBuf,
}

impl Blobs {
    /// Opens the directory and creates it where it is missing.
    pub fn open(directory: &Path) -> Result<Self, StoreError> {
        fs::create_dir_all(directory).map_err(StoreError::Directory)?;
        Ok(Self { directory: directory.to_owned() })
    }

    /// Keeps the bytes and returns their hash once they would survive a power cut.
    pub async fn keep(&self, bytes: Vec<u8>) -> Result<String, StoreError> {
        let blobs = self.clone();
        blocking(move || blobs.keep_now(&bytes)).await
    }

    /// The bytes with this hash, proven to have it.
    pub async fn read(&self, sha256: &str) -> Result<Vec<u8>, StoreError> {
        let (path, wanted) = (self.directory.join(sha256), sha256.to_owned());
        blocking(move || match fs::read(path) {
            Ok(bytes) if sha256_hex(&bytes) == wanted => Ok(bytes),
            Ok(_) => Err(StoreError::Damaged(wanted)),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Err(StoreError::Damaged(wanted)),
            Err(error) => Err(StoreError::Directory(error)),
        })
        .await
    }

    /// Whether the directory is there.
    pub fn ready(&self) -> Result<(), StoreError> {
        fs::metadata(&self.directory).map(drop).map_err(StoreError::Directory)
    }

    fn keep_now(&self, bytes: &[u8]) -> Result<String, StoreError> {
        let sha256 = sha256_hex(bytes);
        self.write(&sha256, bytes).map_err(StoreError::Directory)?;
        Ok(sha256)
    }

    fn write(&self, sha256: &str, bytes: &[u8]) -> io::Result<()> {
        let mut file = tempfile::Builder::new().prefix("new-").tempfile_in(&self.directory)?;
        file.write_all(bytes)?;
        file.as_file().sync_all()?;
        file.persist(self.directory.join(sha256))?;
        File::open(&self.directory)?.sync_all()
    }
}

async fn blocking<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, StoreError> + Send + 'static,
) -> Result<T, StoreError> {
    tokio::task::spawn_blocking(work).await.map_err(|error| StoreError::Directory(io::Error::other(error)))?
}

#[cfg(test)]
mod tests {
    use super::*;

    #[tokio::test]
    async fn a_changed_byte_is_noticed_and_never_served() {
        let directory = tempfile::tempdir().unwrap();
        let blobs = Blobs::open(directory.path()).unwrap();
        let hash = blobs.keep(b"cut here".to_vec()).await.unwrap();
        assert_eq!(blobs.read(&hash).await.unwrap(), b"cut here");
        fs::write(directory.path().join(&hash), b"cut hare").unwrap();
        assert!(matches!(blobs.read(&hash).await, Err(StoreError::Damaged(_))));
    }
}
