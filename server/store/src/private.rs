//! Files and folders that only this user can look into, from the moment that they are there and whatever the umask.

use std::fs::{DirBuilder, File, OpenOptions};
use std::io;
use std::os::unix::fs::{DirBuilderExt, OpenOptionsExt};
use std::path::Path;

/// Permissions of a folder.
pub const FOLDER: u32 = 0o700;

/// Permissions of a file.
const FILE: u32 = 0o600;

/// Creates a folder and those above it where they are missing.
pub fn folder(path: &Path) -> io::Result<()> {
    DirBuilder::new().recursive(true).mode(FOLDER).create(path)
}

/// Creates a file that must not be there yet.
pub fn new_file(path: &Path) -> io::Result<File> {
    OpenOptions::new().write(true).create_new(true).mode(FILE).open(path)
}

/// Creates an empty file for something else to fill; one that is there already stays as it is.
pub fn file(path: &Path) -> io::Result<()> {
    OpenOptions::new().append(true).create(true).mode(FILE).open(path).map(drop)
}
