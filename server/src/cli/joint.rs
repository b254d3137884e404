//! `matchmark joint`

use super::{Failure, read};
use clap::Args;
use std::path::PathBuf;
use std::process::ExitCode;

/// What to compute.
#[derive(Args)]
pub struct Options {
    /// One case or `{"cases": [...]}`; `-` reads standard input.
    file: PathBuf,
}

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let text = read(&options.file)?;
    println!("{}", crate::pending::joint(&text)?);
    Ok(ExitCode::SUCCESS)
}
