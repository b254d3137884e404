//! The disk that the data directory lies on.

use super::StoreError;
use std::path::Path;

/// How many bytes of it are left to whoever is not root.
pub fn free(directory: &Path) -> Result<u64, StoreError> {
    let disk = rustix::fs::statvfs(directory).map_err(|error| StoreError::Directory(error.into()))?;
    Ok(disk.f_bavail.saturating_mul(disk.f_frsize))
}
