//! The log, to standard error.

use super::Failure;
use crate::config::LogFormat;
use tracing_subscriber::EnvFilter;
use tracing_subscriber::filter::LevelFilter;

/// Starts to log: how much and in what form.
pub fn start(filter: &str, format: LogFormat) -> Result<(), Failure> {
    if let Some(word) = filter.split(',').map(str::trim).find(|word| is_no_level(word)) {
        return Err(Failure::Usage(format!(
            "log: {word:?} is no level; give error, warn, info, debug, trace or off, or a target with one, such as sqlx=debug"
        )));
    }
    let filter = EnvFilter::try_new(filter)
        .map_err(|error| Failure::Usage(format!("log: {filter:?} cannot be used: {error}")))?;
    let log = tracing_subscriber::fmt().with_env_filter(filter).with_writer(std::io::stderr).with_ansi(false);
    match format {
        LogFormat::Text => log.init(),
        LogFormat::Json => log.json().flatten_event(true).with_current_span(true).with_span_list(false).init(),
    }
    Ok(())
}

/// Whether a part of a filter is one bare word that names no level. It would be taken for a target, and silence all others.
fn is_no_level(part: &str) -> bool {
    !part.contains(['=', '[']) && part.parse::<LevelFilter>().is_err()
}
