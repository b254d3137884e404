//! The log, to standard error.

use super::Failure;
use crate::config::LogFormat;
use tracing_subscriber::EnvFilter;

/// Starts to log: how much and in what form.
pub fn start(filter: &str, format: LogFormat) -> Result<(), Failure> {
    let filter = EnvFilter::try_new(filter).map_err(|error| Failure::Usage(format!("log: {error}")))?;
    let log = tracing_subscriber::fmt().with_env_filter(filter).with_writer(std::io::stderr).with_ansi(false);
    match format {
        LogFormat::Text => log.init(),
        LogFormat::Json => log.json().flatten_event(true).with_current_span(true).with_span_list(false).init(),
    }
    Ok(())
}
