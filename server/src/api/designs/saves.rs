//! `/v1/designs/{design}/draft/saves`

use crate::http::body::Json;
use crate::http::caller::{Publisher, Supporter};
use crate::http::conditions::{draft_condition, etag, has_already};
use crate::http::problem::Problem;
use crate::http::query::{PageWanted, Query};
use crate::http::{App, paging};
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use matchmark_service::{Restore, SaveView};
use serde::Serialize;
use utoipa::ToSchema;

/// A page of the saves of a draft, newest first.
#[derive(Serialize, ToSchema)]
pub struct Saves {
    saves: Vec<SaveView>,
    /// Cursor of the next page; absent on the last.
    #[serde(skip_serializing_if = "Option::is_none")]
    next: Option<String>,
}

/// List the saves of a draft
#[utoipa::path(get, path = "/v1/designs/{design}/draft/saves", operation_id = "listDraftSaves", tag = "drafts",
    params(("design" = String, Path), PageWanted),
    responses((status = 200, body = Saves)))]
pub async fn list(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(design): Path<String>,
    Query(wanted): Query<PageWanted>,
) -> Result<(HeaderMap, axum::Json<Saves>), Problem> {
    let path = format!("/v1/designs/{design}/draft/saves");
    let page = paging::page(wanted.page_size, wanted.cursor.as_deref(), &path)?;
    let listed = app.saves(&who, &design, &page).await?;
    let next = listed.next_after.map(|after| paging::cursor(&after, &path));
    let size = wanted.page_size.map(|size| format!("page_size={size}")).unwrap_or_default();
    let link = paging::link(&path, &size, next.as_ref());
    let saves = listed.items;
    Ok((link, axum::Json(Saves { saves, next })))
}

/// Read the document of a save
#[utoipa::path(get, path = "/v1/designs/{design}/draft/saves/{save}", operation_id = "readDraftSave", tag = "drafts",
    params(("design" = String, Path), ("save" = i64, Path)),
    responses((status = 200, body = serde_json::Value, description = "The document as it was sent", headers(("etag" = String))),
        (status = 304, description = "It is the one that If-None-Match names")))]
pub async fn read(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path((design, save)): Path<(String, String)>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let saved = app.saved(&who, &design, &save).await?;
    let tag = [(header::ETAG, etag(&saved.sha256))];
    if has_already(&headers, &saved.sha256) {
        return Ok((StatusCode::NOT_MODIFIED, tag).into_response());
    }
    let kind = [(header::CONTENT_TYPE, "application/json")];
    Ok((tag, kind, saved.body).into_response())
}

/// Restore the draft
///
/// Makes an earlier save, or any published revision, the draft again, as one more save; nothing is lost. Takes the conditions of
/// writing the draft.
#[utoipa::path(post, path = "/v1/designs/{design}/draft/restoration", operation_id = "restoreDraft",
    tag = "drafts", request_body = Restore,
    params(("design" = String, Path), ("If-Match" = Option<String>, Header), ("If-None-Match" = Option<String>, Header)),
    responses((status = 204, description = "Restored", headers(("etag" = String)))))]
pub async fn restore(
    State(app): State<App>,
    Publisher(who): Publisher,
    Path(design): Path<String>,
    headers: HeaderMap,
    body: Json<Restore>,
) -> Result<impl IntoResponse, Problem> {
    let condition = draft_condition(&headers)?;
    let draft = app.restore(&who, &design, &body.value, &condition).await?;
    Ok((StatusCode::NO_CONTENT, [(header::ETAG, etag(&draft.sha256))]))
}
