//! `/v1/designs/{design}/changes`

use crate::http::App;
use crate::http::caller::Supporter;
use crate::http::problem::Problem;
use crate::http::query::Query;
use axum::Json;
use axum::extract::{Path, State};
use matchmark_service::ChangesView;
use serde::Deserialize;

/// Between which revisions.
#[derive(Deserialize, utoipa::IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct Between {
    /// Letter of the old revision.
    from: String,
    /// Letter of the new revision; the latest when absent.
    to: Option<String>,
}

/// Read what changed between two revisions
///
/// Part by part: unchanged, moved in place only, rework (what to trim at which end, and whether a wrap marks it), replace, added or
/// removed; check dimensions and steps that changed. Whether an old part can be made into the new one is decided on the cut
/// lines of both over all ways of laying one on the other.
#[utoipa::path(get, path = "/v1/designs/{design}/changes", operation_id = "compareRevisions", tag = "revisions",
    params(("design" = String, Path), Between),
    responses((status = 200, body = ChangesView)))]
pub async fn read(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(design): Path<String>,
    Query(between): Query<Between>,
) -> Result<Json<ChangesView>, Problem> {
    Ok(Json(app.changes(&who, &design, &between.from, between.to.as_deref()).await?))
}
