//! `/v1/kits/{serial}/boxes`

use crate::http::App;
use crate::http::body::Json;
use crate::http::caller::{Caller, Supporter};
use crate::http::conditions::{etag, has_already, if_match};
use crate::http::problem::Problem;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use matchmark_service::{BoxesView, NewBoxes};

/// Say in which boxes a kit is sent
///
/// All boxes at once, over those that `If-Match` names. What they weigh comes from the sheets of the kit.
#[utoipa::path(put, path = "/v1/kits/{serial}/boxes", operation_id = "writeBoxes",
    tag = "kits", request_body = NewBoxes,
    params(("serial" = String, Path), ("If-Match" = String, Header)),
    responses((status = 200, body = BoxesView, headers(("etag" = String)))))]
pub async fn write(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(serial): Path<String>,
    headers: HeaderMap,
    body: Json<NewBoxes>,
) -> Result<impl IntoResponse, Problem> {
    let meant = if_match(&headers)?;
    let (boxes, sha256) = app.put_boxes(&who, &serial, &body.value, meant.as_deref()).await?;
    Ok(([(header::ETAG, etag(&sha256))], axum::Json(boxes)))
}

/// Read in which boxes a kit is sent
#[utoipa::path(get, path = "/v1/kits/{serial}/boxes", operation_id = "readBoxes", tag = "kits",
    params(("serial" = String, Path)),
    responses((status = 200, body = BoxesView, headers(("etag" = String))),
        (status = 304, description = "They are those that If-None-Match names")))]
pub async fn read(
    State(app): State<App>,
    Caller(who): Caller,
    Path(serial): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let (boxes, sha256) = app.boxes(&who, &serial).await?;
    let tag = [(header::ETAG, etag(&sha256))];
    if has_already(&headers, &sha256) {
        return Ok((StatusCode::NOT_MODIFIED, tag).into_response());
    }
    Ok((tag, axum::Json(boxes)).into_response())
}
