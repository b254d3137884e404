//! The one style sheet of all pages, and the mark that browsers show beside their title.

use crate::http::conditions::{etag, has_already};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use matchmark_store::hash::sha256_hex;

const SHEET: &str = include_str!("style.css");

/// Two tubes that meet, with one mark across both: a match mark.
const ICON: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32"><path fill="#fff" d="M0 0h32v32H0z"/><path fill="none" stroke="#14181c" stroke-width="3" d="M2 20h28M2 30h28M11 20V2M21 20V2"/><path stroke="#8c1414" stroke-width="3" d="M16 14v12"/></svg>"##;

/// Hands out the style sheet.
pub async fn sheet(headers: HeaderMap) -> Response {
    kept(&headers, SHEET.as_bytes(), "text/css; charset=utf-8")
}

/// Hands out the mark.
pub async fn icon(headers: HeaderMap) -> Response {
    kept(&headers, ICON.as_bytes(), "image/svg+xml")
}

/// What a browser may keep for a while, since it is the same for everyone.
pub fn kept(headers: &HeaderMap, bytes: &'static [u8], kind: &'static str) -> Response {
    let sha256 = sha256_hex(bytes);
    let facts = [
        (header::ETAG, etag(&sha256)),
        (header::CACHE_CONTROL, HeaderValue::from_static("public, max-age=300")),
        (header::CONTENT_TYPE, HeaderValue::from_static(kind)),
    ];
    if has_already(headers, &sha256) {
        return (StatusCode::NOT_MODIFIED, facts).into_response();
    }
    (facts, bytes).into_response()
}
