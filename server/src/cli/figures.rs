//! `matchmark figures`

use super::backup::kept;
use super::{Failure, print};
use crate::config::{Config, Given, Sources};
use crate::words::{EN, figure_words};
use matchmark_service::engine::Engine;
use matchmark_service::metrics::Metrics;
use matchmark_service::{FiguresView, figures_that_differ};
use matchmark_store::snapshot;
use std::fmt::Write;
use std::process::ExitCode;
use std::sync::Arc;
use tokio::runtime::Runtime;

/// The step of the schema that brought recorded figures: databases from there on can be looked at before they are brought up to date.
const SINCE: i64 = 60;

/// Lists what this version computes otherwise than was recorded, over all revisions; exit 1 when there is any.
pub fn run(given: &Given) -> Result<ExitCode, Failure> {
    let config = Config::from_sources(&Sources::gather(given)?)?;
    let place = kept(&config.kept);
    let (looked_at, differ) = Runtime::new()?.block_on(async {
        let mut conn = snapshot::open_since(place.directory, place.address, Some(SINCE)).await?;
        snapshot::hold(&mut conn).await?;
        let engine = Engine::new(Arc::new(Metrics::default()), config.callers.computing);
        Ok::<_, Failure>(figures_that_differ(&mut conn, &engine).await?)
    })?;
    print(&differ.iter().map(|(design, found)| lines(design, found)).collect::<String>())?;
    print(&format!("{looked_at} revisions checked, {} differ from the record\n", differ.len()))?;
    Ok(if differ.is_empty() { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

fn lines(design: &str, found: &FiguresView) -> String {
    let mut text = String::new();
    for one in found.combinations.iter().filter(|one| !one.changes.is_empty()) {
        let choices: Vec<String> = one.choices.iter().map(|(option, choice)| format!("{option} {choice}")).collect();
        let with = if choices.is_empty() { String::new() } else { format!(" with {}", choices.join(", ")) };
        let _ = writeln!(text, "{design}, revision {}{with}, recorded by version {}:", found.revision, one.engine);
        for change in &one.changes {
            let _ = writeln!(text, "  {}", figure_words(&EN, change));
        }
    }
    text
}
