//! All routes with the layers that every request goes through.

use crate::config::Callers;
use crate::http::response::{ProblemPage, complete};
use crate::http::{App, body, compression, content_tag, cors, limits, request_metrics, unread_body};
use crate::{api, pages};
use axum::extract::DefaultBodyLimit;
use axum::http::HeaderValue;
use axum::{Router, middleware};
use std::sync::Arc;
use tower_http::catch_panic::CatchPanicLayer;

/// All routes, for callers who may take so much, on pages of these other sites as well.
pub fn router(app: App, callers: &Callers, origins: &[HeaderValue]) -> Router {
    let metrics = Arc::clone(app.metrics());
    let shown = ProblemPage { words: pages::failed_words, page: pages::failed };
    let api = api::router(Arc::clone(&app)).layer(middleware::from_fn(content_tag::tag));
    let api = if origins.is_empty() { api } else { api.layer(cors::layer(origins)) };
    api.merge(pages::router().with_state(Arc::clone(&app)))
        .layer(CatchPanicLayer::new())
        .layer(DefaultBodyLimit::max(body::LIMIT))
        .layer(middleware::from_fn_with_state(limits::Limits::new(callers), limits::limit))
        .layer(middleware::from_fn_with_state(unread_body::LeastRate(callers.least_rate), unread_body::discard_unread))
        .layer(middleware::from_fn_with_state((app, shown), complete))
        .layer(compression::layer())
        .layer(middleware::from_fn(compression::tag_encoded))
        .layer(middleware::from_fn_with_state(metrics, request_metrics::count))
}
