//! The one style sheet of all pages.

use crate::api::conditions::{etag, has_already};
use crate::hash::sha256_hex;
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};

const SHEET: &str = include_str!("style.css");

/// Hands it out.
pub async fn sheet(headers: HeaderMap) -> Response {
    let sha256 = sha256_hex(SHEET);
    let facts = [
        (header::ETAG, etag(&sha256)),
        (header::CACHE_CONTROL, HeaderValue::from_static("public, max-age=300")),
        (header::CONTENT_TYPE, HeaderValue::from_static("text/css; charset=utf-8")),
    ];
    if has_already(&headers, &sha256) {
        return (StatusCode::NOT_MODIFIED, facts).into_response();
    }
    (facts, SHEET).into_response()
}
