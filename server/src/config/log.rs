//! How much is logged.

use tracing_subscriber::EnvFilter;
use tracing_subscriber::filter::LevelFilter;

/// A filter, when it is one.
pub fn checked(filter: &str) -> Result<String, String> {
    if let Some(word) = filter.split(',').map(str::trim).find(|word| is_no_level(word)) {
        return Err(format!(
            "{word:?} is not a level; give error, warn, info, debug, trace or off, or a target and a level, such as sqlx=debug"
        ));
    }
    match EnvFilter::try_new(filter) {
        Ok(_) => Ok(filter.to_owned()),
        Err(error) => Err(format!("{filter:?} cannot be used: {error}")),
    }
}

/// Whether a part of a filter is one bare word that names no level. It would be taken for a target, and silence all others.
fn is_no_level(part: &str) -> bool {
    !part.contains(['=', '[']) && part.parse::<LevelFilter>().is_err()
}
