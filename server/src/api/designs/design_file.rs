//! `/v1/designs/{design}/file` and `/v1/design-files`

use crate::http::App;
use crate::http::body::Json;
use crate::http::caller::{Publisher, Supporter};
use crate::http::conditions::once;
use crate::http::problem::Problem;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::IntoResponse;
use matchmark_service::{DesignFile, DesignView};

/// The most bytes a design file may have.
pub const LIMIT: usize = 64 * 1024 * 1024;

/// Export a design
///
/// All revisions with their documents, part numbers, chain and states in one file, with a hash over it.
#[utoipa::path(get, path = "/v1/designs/{design}/file", operation_id = "exportDesign", tag = "designs",
    params(("design" = String, Path)),
    responses((status = 200, body = DesignFile)))]
pub async fn export(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(design): Path<String>,
) -> Result<impl IntoResponse, Problem> {
    let file = app.design_file(&who, &design).await?;
    let name = [(header::CONTENT_DISPOSITION, format!("attachment; filename=\"{design}.matchmark.json\""))];
    Ok((name, axum::Json(file)))
}

/// Import a design
///
/// Takes in an exported file. Every hash and link of it is computed anew; when anything differs, nothing is taken in and `errors`
/// names the place. The design must not be there yet, and the service must not want a second approver.
#[utoipa::path(post, path = "/v1/design-files", operation_id = "importDesign",
    tag = "designs", request_body = DesignFile,
    params(("Idempotency-Key" = Option<String>, Header)),
    responses((status = 201, body = DesignView, headers(("location" = String)))))]
pub async fn import(
    State(app): State<App>,
    Publisher(who): Publisher,
    headers: HeaderMap,
    body: Json<DesignFile>,
) -> Result<impl IntoResponse, Problem> {
    let once = once(&headers, &who, "design-files".to_owned(), &body.bytes)?;
    let view = app.import_design(&who, body.value, &once).await?;
    let place = [(header::LOCATION, format!("/v1/designs/{}", view.id))];
    Ok((StatusCode::CREATED, place, axum::Json(view)))
}
