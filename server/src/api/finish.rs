//! The outermost layer: request id, problem bodies, headers that every answer carries, one line of log.

use super::problem::Problem;
use super::problem_kinds;
use crate::secret;
use axum::extract::Request;
use axum::http::{HeaderMap, HeaderName, HeaderValue, header};
use axum::middleware::Next;
use axum::response::Response;
use std::time::Instant;
use tracing::Instrument;

const REQUEST_ID: HeaderName = HeaderName::from_static("x-request-id");

const PAGE_POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
const DOCS_POLICY: &str = "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; base-uri 'none'; frame-ancestors 'none'";

/// Wraps every answer.
pub async fn finish(request: Request, next: Next) -> Response {
    let begun = Instant::now();
    let id = request_id(request.headers());
    let method = request.method().clone();
    let path = request.uri().path().to_owned();
    let span = tracing::info_span!("request", id);
    let mut response = next.run(request).instrument(span).await;
    if let Some(problem) = response.extensions_mut().remove::<Problem>() {
        response = problem.finish(response, &id);
    } else if response.status().is_client_error() || response.status().is_server_error() {
        let kind = problem_kinds::for_status(response.status());
        response = Problem::new(kind, kind.about).finish(response, &id);
    }
    let status = response.status().as_u16();
    let headers = response.headers_mut();
    if let Ok(value) = HeaderValue::from_str(&id) {
        headers.insert(REQUEST_ID, value);
    }
    let policy = if path.starts_with("/docs") { DOCS_POLICY } else { PAGE_POLICY };
    headers.insert(header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(policy));
    headers.insert(header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    headers.insert(header::REFERRER_POLICY, HeaderValue::from_static("no-referrer"));
    if path.starts_with("/v1/") && !headers.contains_key(header::CACHE_CONTROL) {
        headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("private, no-cache"));
    }
    let milliseconds = u64::try_from(begun.elapsed().as_millis()).unwrap_or(u64::MAX);
    tracing::info!(id, %method, path, status, milliseconds, "answered");
    response
}

/// The caller's request id when it is short and plain, else a new one.
fn request_id(headers: &HeaderMap) -> String {
    let plain = |id: &&str| {
        (1..=64).contains(&id.len()) && id.bytes().all(|b| b.is_ascii_alphanumeric() || b"-_.".contains(&b))
    };
    headers.get(REQUEST_ID).and_then(|value| value.to_str().ok()).filter(plain).map_or_else(secret::id, str::to_owned)
}
