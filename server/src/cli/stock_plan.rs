//! `matchmark stock-plan`

use super::{Failure, print, read};
use crate::engine::stock_plan;
use clap::Args;
use matchmark_core::stock::{Request, StockError};
use std::path::PathBuf;
use std::process::ExitCode;

/// What to plan.
#[derive(Args)]
pub struct Options {
    /// Parts, bars and the saw of one section; `-` reads standard input.
    file: PathBuf,
}

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let text = read(&options.file)?;
    let plan = Request::read(&text).and_then(|request| stock_plan(&request)).map_err(told)?;
    let answer = serde_json::to_string(&plan).map_err(|error| Failure::Other(error.to_string()))?;
    print(&format!("{answer}\n"))?;
    Ok(ExitCode::SUCCESS)
}

fn told(error: StockError) -> Failure {
    Failure::Other(format!("{} at {:?}: {error}", error.code(), error.pointer()))
}
