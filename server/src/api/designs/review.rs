//! `/v1/designs/{design}/draft/...`: the review of a draft before it is published.

use crate::http::App;
use crate::http::caller::{Publisher, Supporter};
use crate::http::conditions::{draft_condition, once};
use crate::http::problem::Problem;
use axum::Json;
use axum::extract::{Path, State};
use axum::http::HeaderMap;
use matchmark_service::ReviewView;

/// Read where the draft stands
///
/// Whether it can be written or is frozen for review, and whether somebody else than the caller has to publish it.
#[utoipa::path(get, path = "/v1/designs/{design}/draft/review", operation_id = "readDraftReview", tag = "drafts",
    params(("design" = String, Path)),
    responses((status = 200, body = ReviewView)))]
pub async fn read(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(design): Path<String>,
) -> Result<Json<ReviewView>, Problem> {
    Ok(Json(app.review(&who, &design).await?))
}

/// Freeze the draft
///
/// Holds the draft that `If-Match` names still for review: nobody writes it until it is thawed or published. A draft with errors
/// is not frozen (422), nor one that is the latest revision already (409). Where the service wants a second approver, only a frozen
/// draft is published, and by somebody else than who wrote and froze it.
#[utoipa::path(post, path = "/v1/designs/{design}/draft/freeze", operation_id = "freezeDraft", tag = "drafts",
    params(("design" = String, Path), ("If-Match" = String, Header), ("Idempotency-Key" = Option<String>, Header)),
    responses((status = 200, body = ReviewView)))]
pub async fn freeze(
    State(app): State<App>,
    Publisher(who): Publisher,
    Path(design): Path<String>,
    headers: HeaderMap,
) -> Result<Json<ReviewView>, Problem> {
    let condition = draft_condition(&headers)?;
    let once = once(&headers, &who, format!("designs/{design}/draft/freeze"), &[])?;
    Ok(Json(app.freeze(&who, &design, &condition, &once).await?))
}

/// Thaw the draft
///
/// Lets it be written again; any publisher may.
#[utoipa::path(post, path = "/v1/designs/{design}/draft/thaw", operation_id = "thawDraft", tag = "drafts",
    params(("design" = String, Path), ("Idempotency-Key" = Option<String>, Header)),
    responses((status = 200, body = ReviewView)))]
pub async fn thaw(
    State(app): State<App>,
    Publisher(who): Publisher,
    Path(design): Path<String>,
    headers: HeaderMap,
) -> Result<Json<ReviewView>, Problem> {
    let once = once(&headers, &who, format!("designs/{design}/draft/thaw"), &[])?;
    Ok(Json(app.thaw(&who, &design, &once).await?))
}
