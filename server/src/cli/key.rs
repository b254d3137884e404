//! `matchmark key`

use super::{Failure, print, read, write_secret};
use crate::secret;
use clap::Args;
use matchmark_core::seal::SealKey;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Where the new key goes.
#[derive(Args)]
pub struct Options {
    /// File to write the secret key to; it must not exist yet. Keep it where nobody else can read it.
    file: PathBuf,
}

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let key = make(&options.file)?;
    print(&format!("{}\n", key.public().hex()))?;
    Ok(ExitCode::SUCCESS)
}

/// The key in a file; a new one where there is no file yet.
pub fn kept(file: &Path) -> Result<SealKey, Failure> {
    if !file.exists() {
        return make(file);
    }
    SealKey::from_hex(&read(file)?).map_err(|error| Failure::Other(format!("{}: {error}", file.display())))
}

fn make(file: &Path) -> Result<SealKey, Failure> {
    let key = SealKey::new(secret::key());
    write_secret(file, &format!("{}\n", key.secret_hex()))?;
    Ok(key)
}
