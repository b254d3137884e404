//! `matchmark key`

use super::{Failure, print};
use crate::secret;
use clap::Args;
use matchmark_core::seal::SealKey;
use std::fs::OpenOptions;
use std::io::Write;
use std::path::PathBuf;
use std::process::ExitCode;

/// Where the new key goes.
#[derive(Args)]
pub struct Options {
    /// File to write the secret key to; it must not exist yet. Keep it where nobody else can read it.
    file: PathBuf,
}

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let key = SealKey::new(secret::key());
    let unwritable = |source| Failure::Unwritable { path: options.file.clone(), source };
    let mut open = OpenOptions::new();
    open.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut open, 0o600);
    let mut file = open.open(&options.file).map_err(unwritable)?;
    writeln!(file, "{}", key.secret_hex()).map_err(unwritable)?;
    print(&format!("{}\n", key.public().hex()))?;
    Ok(ExitCode::SUCCESS)
}
