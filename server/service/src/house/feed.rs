//! What happened, for programs that ask for what is new.

use crate::rules::events::{EVENTS_LAST, EventView};
use crate::{Principal, Service, ServiceError};
use matchmark_store::events;
use serde::Deserialize;
use utoipa::IntoParams;

const DEFAULT: usize = 100;
const MOST: usize = 1000;

/// Which events.
#[derive(Debug, Clone, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct EventsWanted {
    /// The `next` of the answer before; from the oldest that is kept when absent or 0.
    #[serde(default)]
    #[param(minimum = 0)]
    pub after: u64,
    /// How many at most: 100 when absent, never more than 1000.
    #[param(minimum = 1)]
    pub limit: Option<usize>,
}

/// Events that came after one.
#[derive(Debug)]
pub struct NewEvents {
    /// Oldest first.
    pub events: Vec<EventView>,
    /// What to ask for next: the id of the last of them, else what was asked for.
    pub next: i64,
}

impl Service {
    /// The events after one, oldest first; from the oldest that is kept for 0. Refuses an id so old that
    /// events after it may have been forgotten.
    pub async fn events(&self, who: &Principal, wanted: &EventsWanted) -> Result<NewEvents, ServiceError> {
        who.may_support()?;
        let after = i64::try_from(wanted.after).unwrap_or(i64::MAX);
        let limit = wanted.limit.unwrap_or(DEFAULT).min(MOST);
        let mut read = self.store.read().await?;
        let rows = events::after(&mut read, after, i64::try_from(limit).unwrap_or(i64::MAX)).await?;
        // In this order: what is forgotten in between is refused, not left out.
        let oldest = events::oldest(&mut read).await?.unwrap_or_default();
        if after != 0 && after < oldest && oldest < self.clock.stamp_in(-EVENTS_LAST).milliseconds() {
            return Err(ServiceError::EventsForgotten(after.to_string()));
        }
        let events: Vec<EventView> = rows.into_iter().map(EventView::of).collect::<Result<_, _>>()?;
        let next = events.last().map_or(after, |last| last.id);
        Ok(NewEvents { events, next })
    }
}
