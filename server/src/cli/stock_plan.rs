//! `matchmark stock-plan`

use super::{Failure, print, read};
use clap::Args;
use matchmark_core::stock::{Progress, Request, StockError};
use matchmark_service::engine::stock_plan;
use std::path::PathBuf;
use std::process::ExitCode;
use std::time::Duration;

/// After this long, and as often again, a line of progress goes to standard error.
const LONG: Duration = Duration::from_secs(1);

/// What to plan.
#[derive(Args)]
pub struct Options {
    /// Parts, bars and the saw of one section; `-` reads standard input.
    file: PathBuf,
}

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let text = read(&options.file)?;
    let mut next = LONG;
    let mut watch = |elapsed: Duration, progress: Progress| {
        if elapsed >= next {
            next = elapsed + LONG;
            eprintln!("{}", line(elapsed, progress));
        }
        false
    };
    let plan = Request::read(&text).and_then(|request| stock_plan(&request, &mut watch)).map_err(told)?;
    let answer = serde_json::to_string(&plan).map_err(|error| Failure::Other(error.to_string()))?;
    print(&format!("{answer}\n"))?;
    Ok(ExitCode::SUCCESS)
}

fn line(elapsed: Duration, progress: Progress) -> String {
    let seconds = elapsed.as_secs_f64();
    match progress.best {
        Some(best) => {
            let gap = if best > 0.0 { 100.0 * (1.0 - progress.bound / best) } else { 0.0 };
            format!("{seconds:.0} s: best {best}, bound {}, gap {gap:.2} %", progress.bound)
        }
        None => format!("{seconds:.0} s: no plan yet, bound {}", progress.bound),
    }
}

fn told(error: StockError) -> Failure {
    Failure::Other(format!("{} at {:?}: {error}", error.code(), error.pointer()))
}
