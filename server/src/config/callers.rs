//! How much callers may take of the service.

use super::{ConfigError, Sources, number};
use std::num::NonZeroU32;
use std::time::Duration;

/// What callers may take.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Callers {
    /// Requests a minute of a kit, or of a token of the supplier's people.
    pub requests_per_token: NonZeroU32,
    /// Requests a minute that come from an address without a good token.
    pub requests_per_address: NonZeroU32,
    /// Connections open at a time; others wait to be accepted.
    pub connections: usize,
    /// Connections of one address open at a time.
    pub connections_per_address: usize,
    /// Least bytes a second that a body comes at and an answer is taken at.
    pub least_rate: u32,
    /// How long one computation may take.
    pub computing: Duration,
}

impl Callers {
    /// What the sources say.
    pub fn from_sources(sources: &Sources) -> Result<Self, ConfigError> {
        Ok(Self {
            requests_per_token: positive(sources, "requests-per-token")?,
            requests_per_address: positive(sources, "requests-per-address")?,
            connections: count(sources, "connections")?.min(tokio::sync::Semaphore::MAX_PERMITS),
            connections_per_address: count(sources, "connections-per-address")?,
            least_rate: positive(sources, "least-rate")?.get(),
            computing: Duration::from_secs(positive(sources, "compute-seconds")?.get().into()),
        })
    }
}

/// A number of things, 1 or more.
pub(super) fn count(sources: &Sources, name: &'static str) -> Result<usize, ConfigError> {
    positive(sources, name).map(|count| usize::try_from(count.get()).unwrap_or(usize::MAX))
}

fn positive(sources: &Sources, name: &'static str) -> Result<NonZeroU32, ConfigError> {
    let number = number(sources, name, 1, u32::MAX.into())?;
    Ok(u32::try_from(number).ok().and_then(NonZeroU32::new).unwrap_or(NonZeroU32::MAX))
}
