//! `matchmark joint`

use super::{Failure, print, read};
use clap::Args;
use matchmark_core::joint;
use matchmark_service::ServiceError;
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
    let answer = joint::solve(&text).map_err(ServiceError::from)?;
    print(&format!("{answer}\n"))?;
    Ok(ExitCode::SUCCESS)
}
