//! `/v1/designs/{design}/revisions`

use crate::http::App;
use crate::http::body::Json;
use crate::http::caller::{Caller, Publisher, Supporter};
use crate::http::conditions::{draft_condition, etag, has_already, keyed_once};
use crate::http::problem::Problem;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use matchmark_service::{Publish, RevisionView};
use matchmark_store::hash::sha256_hex;
use serde::Serialize;
use utoipa::ToSchema;

/// All revisions of a design, oldest first.
#[derive(Serialize, ToSchema)]
pub struct Revisions {
    revisions: Vec<RevisionView>,
}

/// Publish the draft
///
/// Makes the draft that `If-Match` names a revision, immutable ever after. Errors stop it (422); warnings stop it (409) until
/// their codes are named in `acknowledge`. Letters follow ASME Y14.35 practice.
#[utoipa::path(post, path = "/v1/designs/{design}/revisions", operation_id = "publishDraft",
    tag = "revisions", request_body = Publish,
    params(("design" = String, Path), ("If-Match" = String, Header), ("Idempotency-Key" = String, Header)),
    responses((status = 201, body = RevisionView, headers(("location" = String)))))]
pub async fn publish(
    State(app): State<App>,
    Publisher(who): Publisher,
    Path(design): Path<String>,
    headers: HeaderMap,
    body: Json<Publish>,
) -> Result<impl IntoResponse, Problem> {
    let condition = draft_condition(&headers)?;
    let once = keyed_once(&headers, &who, format!("designs/{design}/revisions"), &body.bytes)?;
    let view = app.publish(&who, &design, body.value, &condition, &once).await?;
    let place = format!("/v1/designs/{}/revisions/{}", view.design, view.letter);
    Ok((StatusCode::CREATED, [(header::LOCATION, place)], axum::Json(view)))
}

/// List revisions
#[utoipa::path(get, path = "/v1/designs/{design}/revisions", operation_id = "listRevisions", tag = "revisions",
    params(("design" = String, Path)),
    responses((status = 200, body = Revisions)))]
pub async fn list(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(design): Path<String>,
) -> Result<axum::Json<Revisions>, Problem> {
    let revisions = app.revisions(&who, &design).await?;
    Ok(axum::Json(Revisions { revisions }))
}

/// Read a revision
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}", operation_id = "readRevision", tag = "revisions",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = RevisionView)))]
pub async fn read(
    State(app): State<App>,
    Caller(who): Caller,
    Path((design, letter)): Path<(String, String)>,
) -> Result<axum::Json<RevisionView>, Problem> {
    Ok(axum::Json(app.revision(&who, &design, &letter).await?))
}

/// Read the document of a revision
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/document", operation_id = "readRevisionDocument",
    tag = "revisions",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = serde_json::Value, description = "The document as published", headers(("etag" = String))),
        (status = 304, description = "It is the one that If-None-Match names")))]
pub async fn document(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path((design, letter)): Path<(String, String)>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let document = app.document(&who, &design, &letter).await?;
    let sha256 = sha256_hex(&document);
    let tag = [(header::ETAG, etag(&sha256))];
    if has_already(&headers, &sha256) {
        return Ok((StatusCode::NOT_MODIFIED, tag).into_response());
    }
    let kind = [(header::CONTENT_TYPE, "application/json")];
    Ok((tag, kind, document).into_response())
}
