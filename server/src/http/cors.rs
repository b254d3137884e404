//! Which other sites may call the API from a browser (the Fetch standard, section 3.3).

use axum::http::{HeaderName, HeaderValue, Method, header};
use std::time::Duration;
use tower_http::cors::CorsLayer;

/// How long a browser may remember the answer.
const REMEMBERED: Duration = Duration::from_secs(3600);

/// What callers send beside the body.
const SENT: [HeaderName; 7] = [
    header::ACCEPT,
    header::AUTHORIZATION,
    header::CONTENT_TYPE,
    header::IF_MATCH,
    header::IF_NONE_MATCH,
    header::RANGE,
    HeaderName::from_static("idempotency-key"),
];

/// What scripts of those sites may read of an answer.
const SHOWN: [HeaderName; 6] = [
    header::CONTENT_DISPOSITION,
    header::ETAG,
    header::LINK,
    header::LOCATION,
    header::RETRY_AFTER,
    HeaderName::from_static("x-request-id"),
];

/// Lets just these origins call, with a token of their own: cookies are not sent along.
pub fn layer(origins: &[HeaderValue]) -> CorsLayer {
    CorsLayer::new()
        .allow_origin(origins.to_vec())
        .allow_methods([Method::GET, Method::HEAD, Method::POST, Method::PUT, Method::PATCH, Method::DELETE])
        .allow_headers(SENT)
        .expose_headers(SHOWN)
        .max_age(REMEMBERED)
}
