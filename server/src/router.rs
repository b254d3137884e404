//! All routes with the layers that every request goes through.

use crate::config::Callers;
use crate::http::response::{ProblemPage, complete};
use crate::http::{App, body, limits, request_metrics, unread_body};
use crate::{api, pages};
use axum::extract::DefaultBodyLimit;
use axum::{Router, middleware};
use std::sync::Arc;
use tower_http::catch_panic::CatchPanicLayer;

/// All routes, for callers who may take so much.
pub fn router(app: App, callers: &Callers) -> Router {
    let metrics = Arc::clone(app.metrics());
    let shown = ProblemPage { words: pages::failed_words, page: pages::failed };
    api::router(Arc::clone(&app))
        .merge(pages::router().with_state(Arc::clone(&app)))
        .layer(CatchPanicLayer::new())
        .layer(DefaultBodyLimit::max(body::LIMIT))
        .layer(middleware::from_fn_with_state(limits::Limits::new(callers), limits::limit))
        .layer(middleware::from_fn_with_state(unread_body::LeastRate(callers.least_rate), unread_body::discard_unread))
        .layer(middleware::from_fn_with_state((app, shown), complete))
        .layer(middleware::from_fn_with_state(metrics, request_metrics::count))
}
