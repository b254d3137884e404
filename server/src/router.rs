//! All routes with the layers that every request goes through.

use crate::config::Callers;
use crate::http::finish::{Shown, finish};
use crate::http::{App, body, drain, limits, measure};
use crate::{api, pages};
use axum::extract::DefaultBodyLimit;
use axum::{Router, middleware};
use std::sync::Arc;
use tower_http::catch_panic::CatchPanicLayer;

/// All routes, for callers who may take so much.
pub fn router(app: App, callers: &Callers) -> Router {
    let metrics = Arc::clone(app.metrics());
    let shown = Shown { words: pages::failed_words, page: pages::failed };
    api::router(Arc::clone(&app))
        .merge(pages::router().with_state(Arc::clone(&app)))
        .layer(CatchPanicLayer::new())
        .layer(DefaultBodyLimit::max(body::LIMIT))
        .layer(middleware::from_fn_with_state(limits::Limits::new(callers), limits::limit))
        .layer(middleware::from_fn_with_state(drain::LeastRate(callers.least_rate), drain::drain))
        .layer(middleware::from_fn_with_state((app, shown), finish))
        .layer(middleware::from_fn_with_state(metrics, measure::measure))
}
