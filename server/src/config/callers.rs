//! How much callers may take of the service.

use super::{ConfigError, Sources, required};
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
        let positive = |name| required::<NonZeroU32>(sources, name).map(NonZeroU32::get);
        let count = |name| positive(name).map(|count| usize::try_from(count).unwrap_or(usize::MAX));
        Ok(Self {
            requests_per_token: required(sources, "requests-per-token")?,
            requests_per_address: required(sources, "requests-per-address")?,
            connections: count("connections")?.min(tokio::sync::Semaphore::MAX_PERMITS),
            connections_per_address: count("connections-per-address")?,
            least_rate: positive("least-rate")?,
            computing: Duration::from_secs(positive("compute-seconds")?.into()),
        })
    }
}
