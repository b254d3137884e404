//! `/v1/events`: what happened, for programs that ask for what is new.

use crate::http::App;
use crate::http::caller::Supporter;
use crate::http::problem::Problem;
use crate::http::problem_kinds as kinds;
use crate::http::query::Query;
use crate::words::of_request;
use axum::Json;
use axum::extract::State;
use matchmark_service::{EventView, EventsWanted};
use serde::Serialize;
use utoipa::ToSchema;

/// Events, oldest first.
#[derive(Serialize, ToSchema)]
pub struct Events {
    /// None when nothing is new.
    events: Vec<EventView>,
    /// What to send as `after` next time.
    next: i64,
}

/// List what happened
///
/// Oldest first. Ask again with `after` set to `next`, at once while there are events and after a while when there are none: no
/// event is left out and none comes twice. Events are kept for 90 days; an `after` from before the oldest that is kept gets 410.
#[utoipa::path(get, path = "/v1/events", operation_id = "listEvents", tag = "events", params(EventsWanted),
    responses((status = 200, body = Events)))]
pub async fn list(
    State(app): State<App>,
    Supporter(who): Supporter,
    Query(wanted): Query<EventsWanted>,
) -> Result<Json<Events>, Problem> {
    if wanted.limit == Some(0) {
        return Err(Problem::new(&kinds::BAD_REQUEST, of_request().requests.limit()));
    }
    let found = app.events(&who, &wanted).await?;
    Ok(Json(Events { events: found.events, next: found.next }))
}
