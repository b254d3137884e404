//! `matchmark config show`

use super::{Failure, print};
use crate::config::{Config, Given, Kind, SETTINGS, Sources};
use clap::Subcommand;
use std::fmt::Write;
use std::process::ExitCode;

/// What to do with the configuration.
#[derive(Subcommand)]
pub enum Options {
    /// Print every setting, where its value comes from, and no secret; exit 2 when one cannot be used.
    Show(Given),
}

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let Options::Show(given) = options;
    let sources = Sources::gather(given)?;
    Config::from_sources(&sources)?;
    print(&shown(&sources))?;
    Ok(ExitCode::SUCCESS)
}

/// As a file could say it, with the origin of each value behind it.
fn shown(sources: &Sources) -> String {
    let mut text = String::new();
    for setting in SETTINGS {
        let name = setting.name;
        let Some(found) = sources.get(name) else {
            let _ = writeln!(text, "# {name} is not set");
            continue;
        };
        let value = match setting.kind {
            // What JSON escapes in text, TOML reads alike.
            Kind::Plain => serde_json::Value::from(found.value.reveal()).to_string(),
            Kind::Secret | Kind::NoFlag => "(secret)".to_owned(),
        };
        let held_by = found.held_by.as_ref().map_or_else(String::new, |path| format!(", held by {}", path.display()));
        let _ = writeln!(text, "{name} = {value}  # {}{held_by}", found.origin);
    }
    text
}
