//! The only source of the present time.

use time::format_description::BorrowedFormatItem;
use time::format_description::well_known::Rfc3339;
use time::macros::format_description;
use time::{Duration, OffsetDateTime, UtcOffset};

const TIMESTAMP: &[BorrowedFormatItem<'_>] =
    format_description!("[year]-[month]-[day]T[hour]:[minute]:[second].[subsecond digits:3]Z");

/// Says what time it is.
pub trait Clock: Send + Sync {
    /// The present time.
    fn now(&self) -> OffsetDateTime;

    /// The present time as it is recorded.
    fn stamp(&self) -> Stamp {
        Stamp::of(self.now())
    }

    /// The time a while from now, as it is recorded.
    fn stamp_in(&self, wait: Duration) -> Stamp {
        Stamp::of(self.now() + wait)
    }
}

/// The machine's own clock.
pub struct SystemClock;

impl Clock for SystemClock {
    fn now(&self) -> OffsetDateTime {
        OffsetDateTime::now_utc()
    }
}

/// A time as records carry it: RFC 3339 in UTC, to the millisecond.
#[derive(Debug, Clone)]
pub struct Stamp(String);

impl Stamp {
    /// A time as records carry it.
    pub fn of(time: OffsetDateTime) -> Self {
        // Formatting numbers into a String cannot fail; an empty stamp is refused nowhere but is seen at once.
        Self(time.to_offset(UtcOffset::UTC).format(TIMESTAMP).unwrap_or_default())
    }

    /// A time that was recorded.
    pub fn said(at: &str) -> Self {
        Self(at.to_owned())
    }

    /// Date and time, such as `2026-11-25T09:30:00.000Z`.
    pub fn at(&self) -> &str {
        &self.0
    }

    /// Milliseconds since 1970; 0 when it is no time.
    pub fn milliseconds(&self) -> i64 {
        OffsetDateTime::parse(&self.0, &Rfc3339)
            .map_or(0, |time| i64::try_from(time.unix_timestamp_nanos() / 1_000_000).unwrap_or(0))
    }

    /// The beginning of its hour; empty when it is no time.
    pub fn hour(&self) -> String {
        self.0.get(..13).map(|hour| format!("{hour}:00:00.000Z")).unwrap_or_default()
    }

    /// The time so long after it; itself when it is no time.
    pub fn after(&self, wait: Duration) -> Self {
        OffsetDateTime::parse(&self.0, &Rfc3339).map_or_else(|_| self.clone(), |time| Self::of(time + wait))
    }

    /// How long after `earlier`, a recorded time, this is; nothing when `earlier` is no time.
    pub fn since(&self, earlier: &str) -> Duration {
        let read = |text: &str| OffsetDateTime::parse(text, &Rfc3339).ok();
        read(&self.0).zip(read(earlier)).map_or(Duration::ZERO, |(now, then)| now - then)
    }

    /// The date alone, such as `2026-11-25`.
    pub fn date(&self) -> &str {
        self.0.get(..10).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stamp_is_utc_to_the_millisecond() {
        let time = time::macros::datetime!(2026-11-25 23:30:00.1239 -2);
        assert_eq!(Stamp::of(time).at(), "2026-11-26T01:30:00.123Z");
        assert_eq!(Stamp::of(time).date(), "2026-11-26");
        // `date -d 2026-11-26T01:30:00.123Z +%s%3N`
        assert_eq!(Stamp::of(time).milliseconds(), 1_795_656_600_123);
        assert_eq!(Stamp::of(time).since("2026-11-26T01:29:00.000Z"), Duration::milliseconds(60_123));
    }
}
