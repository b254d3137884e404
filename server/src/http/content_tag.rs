//! Tags of answers that belong to a revision and are computed when they are asked for.

use super::conditions::{etag, has_already};
use axum::body::{Body, HttpBody, to_bytes};
use axum::extract::Request;
use axum::http::{Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use matchmark_store::hash::sha256_hex;

/// Larger answers are streamed, bytes.
const MOST: u64 = 64 * 1024 * 1024;

/// Tags an answer that belongs to a revision by the hash of its bytes, where its handler knows no other, and leaves the bytes out where
/// the caller has them already.
pub async fn tag(request: Request, next: Next) -> Response {
    let is_asked = *request.method() == Method::GET && request.uri().path().contains("/revisions/");
    let headers = request.headers().clone();
    let response = next.run(request).await;
    let length = response.body().size_hint().exact().filter(|length| *length <= MOST);
    let is_open = response.status() == StatusCode::OK
        && !response.headers().contains_key(header::ETAG)
        && !response.headers().contains_key(header::CACHE_CONTROL);
    let (true, true, Some(length)) = (is_asked, is_open, length) else { return response };
    let (mut parts, body) = response.into_parts();
    // As long as it said, or what follows is no answer at all.
    let Ok(bytes) = to_bytes(body, usize::try_from(length).unwrap_or(usize::MAX)).await else {
        return StatusCode::INTERNAL_SERVER_ERROR.into_response();
    };
    let sha256 = sha256_hex(&bytes);
    let tag = etag(&sha256);
    if has_already(&headers, &sha256) {
        return (StatusCode::NOT_MODIFIED, [(header::ETAG, tag)]).into_response();
    }
    parts.headers.insert(header::ETAG, tag);
    Response::from_parts(parts, Body::from(bytes))
}
