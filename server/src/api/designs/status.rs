//! `/v1/designs/{design}/status`

use crate::http::App;
use crate::http::conditions::{etag, has_already};
use crate::http::problem::Problem;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use matchmark_core::seal::SignedStatus;
use matchmark_store::hash::sha256_hex;

/// How long caches may hand it on: the longest that a recall stays unseen behind one, since none may go on without asking (RFC 9111, section
/// 5.2.2.2).
const KEPT: HeaderValue = HeaderValue::from_static("public, max-age=60, must-revalidate");

/// Read the signed status of a design
///
/// Which revision is in force, and which were withdrawn or recalled, signed so that it can be checked without a network
/// (`matchmark verify --status`) and good for seven days. Anyone may ask: it names no kit and no customer. A design that was never
/// published is unknown here.
#[utoipa::path(get, path = "/v1/designs/{design}/status", operation_id = "readDesignStatus",
    tag = "designs", security(()),
    params(("design" = String, Path)),
    responses((status = 200, body = SignedStatus, headers(("etag" = String))),
        (status = 304, description = "The caller has it already")))]
pub async fn read(State(app): State<App>, Path(design): Path<String>, headers: HeaderMap) -> Result<Response, Problem> {
    let body = serde_json::to_string(&app.design_status(&design).await?).unwrap_or_default();
    let sha256 = sha256_hex(&body);
    let facts = [(header::ETAG, etag(&sha256)), (header::CACHE_CONTROL, KEPT)];
    if has_already(&headers, &sha256) {
        return Ok((StatusCode::NOT_MODIFIED, facts).into_response());
    }
    let kind = [(header::CONTENT_TYPE, HeaderValue::from_static("application/json"))];
    Ok((facts, kind, body).into_response())
}
