//! Counts each answer by the template of its route.

use crate::http::App;
use axum::Router;
use axum::extract::{MatchedPath, Request, State};
use axum::http::header;
use axum::middleware::Next;
use axum::response::Response;
use axum::routing::get;
use matchmark_service::metrics::Metrics;
use std::sync::Arc;
use std::time::Instant;

/// What is counted for an address that is no route.
const NO_ROUTE: &str = "none";

/// Runs the handler and counts its answer.
pub async fn count(State(metrics): State<Arc<Metrics>>, request: Request, next: Next) -> Response {
    let begun = Instant::now();
    let method = request.method().clone();
    let route = request.extensions().get::<MatchedPath>().cloned();
    let response = next.run(request).await;
    let route = route.as_ref().map_or(NO_ROUTE, MatchedPath::as_str);
    metrics.answered(method.as_str(), route, response.status().as_u16(), begun.elapsed());
    response
}

/// What Prometheus reads, on a listener of its own.
pub fn router(app: App) -> Router {
    Router::new().route("/metrics", get(text)).with_state(app)
}

async fn text(State(app): State<App>) -> ([(header::HeaderName, &'static str); 1], String) {
    ([(header::CONTENT_TYPE, "application/openmetrics-text; version=1.0.0; charset=utf-8")], app.metrics_text())
}
