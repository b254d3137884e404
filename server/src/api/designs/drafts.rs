//! `/v1/designs/{design}/draft`

use crate::http::App;
use crate::http::body::JsonText;
use crate::http::caller::{Publisher, Supporter};
use crate::http::conditions::{draft_condition, etag, has_already};
use crate::http::problem::Problem;
use crate::http::query::{PaperWanted, Query};
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use matchmark_service::{ChangesView, FindingsView, Touched};
use serde::Deserialize;

/// Write the draft
///
/// The body is the design document, kept byte for byte. The first draft takes `If-None-Match: *`; every later one takes the
/// `ETag` of the draft it replaces as `If-Match`. A draft may have errors: it is work in hand.
#[utoipa::path(put, path = "/v1/designs/{design}/draft", operation_id = "writeDraft", tag = "drafts",
    params(("design" = String, Path), ("If-Match" = Option<String>, Header), ("If-None-Match" = Option<String>, Header)),
    request_body(content = serde_json::Value, description = "A document after /v1/schemas/design"),
    responses((status = 201, description = "First draft", headers(("etag" = String))),
        (status = 204, description = "Draft replaced", headers(("etag" = String)))))]
pub async fn write(
    State(app): State<App>,
    Publisher(who): Publisher,
    Path(design): Path<String>,
    headers: HeaderMap,
    JsonText(text): JsonText,
) -> Result<impl IntoResponse, Problem> {
    let condition = draft_condition(&headers)?;
    let draft = app.put_draft(&who, &design, text, &condition).await?;
    let status = if draft.created { StatusCode::CREATED } else { StatusCode::NO_CONTENT };
    Ok((status, [(header::ETAG, etag(&draft.sha256))]))
}

/// Read the draft
#[utoipa::path(get, path = "/v1/designs/{design}/draft", operation_id = "readDraft", tag = "drafts",
    params(("design" = String, Path)),
    responses((status = 200, body = serde_json::Value, description = "The document as written", headers(("etag" = String))),
        (status = 304, description = "It is the one that If-None-Match names")))]
pub async fn read(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(design): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let draft = app.draft(&who, &design).await?;
    let tag = [(header::ETAG, etag(&draft.sha256))];
    if has_already(&headers, &draft.sha256) {
        return Ok((StatusCode::NOT_MODIFIED, tag).into_response());
    }
    let kind = [(header::CONTENT_TYPE, "application/json")];
    Ok((tag, kind, draft.body).into_response())
}

/// Which choices are looked at.
#[derive(Deserialize, utoipa::IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct ChoicesWanted {
    /// True to look at all choices: every combination of them, or where there are more than 64 so many that options which meet
    /// at a tube or a plate come in every combination of theirs. Otherwise the first choice of every option.
    #[serde(default)]
    all_choices: bool,
}

/// Read what is found in the draft
#[utoipa::path(get, path = "/v1/designs/{design}/draft/findings", operation_id = "readDraftFindings", tag = "drafts",
    params(("design" = String, Path), ChoicesWanted),
    responses((status = 200, body = FindingsView)))]
pub async fn findings(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(design): Path<String>,
    Query(wanted): Query<ChoicesWanted>,
) -> Result<axum::Json<FindingsView>, Problem> {
    Ok(axum::Json(app.findings(&who, &design, wanted.all_choices).await?))
}

/// Draw a pack of the draft
///
/// Every page is marked as a draft, not for cutting.
#[utoipa::path(get, path = "/v1/designs/{design}/draft/pack", operation_id = "drawDraftPack", tag = "drafts",
    params(("design" = String, Path), PaperWanted),
    responses((status = 200, content_type = "application/pdf", body = Vec<u8>)))]
pub async fn pack(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(design): Path<String>,
    Query(wanted): Query<PaperWanted>,
) -> Result<impl IntoResponse, Problem> {
    let bytes = app.preview(&who, &design, wanted.print()).await?;
    let name = format!("inline; filename=\"{design}-draft.pdf\"");
    let headers = [(header::CONTENT_TYPE, "application/pdf".to_owned()), (header::CONTENT_DISPOSITION, name)];
    Ok((headers, bytes))
}

/// From which revision.
#[derive(Deserialize, utoipa::IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct Since {
    /// Letter of the revision; the latest when absent.
    from: Option<String>,
}

/// Read what changed from a revision to the draft
#[utoipa::path(get, path = "/v1/designs/{design}/draft/changes", operation_id = "readDraftChanges", tag = "drafts",
    params(("design" = String, Path), Since),
    responses((status = 200, body = ChangesView)))]
pub async fn changes(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(design): Path<String>,
    Query(since): Query<Since>,
) -> Result<axum::Json<ChangesView>, Problem> {
    Ok(axum::Json(app.draft_changes(&who, &design, since.from.as_deref()).await?))
}

/// Read which kits the draft would touch
///
/// To be looked at before publishing: every kit by revision and choices, and what publishing the draft would mean for its parts:
/// unchanged, moved in place only, rework, replace, added or removed.
#[utoipa::path(get, path = "/v1/designs/{design}/draft/touched", operation_id = "readTouchedKits", tag = "drafts",
    params(("design" = String, Path)),
    responses((status = 200, body = Touched)))]
pub async fn touched(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(design): Path<String>,
) -> Result<axum::Json<Touched>, Problem> {
    Ok(axum::Json(app.touched(&who, &design).await?))
}
