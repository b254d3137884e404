//! Packs.

pub mod jobs;
pub mod redraw;
pub mod scanned_sheet;

use crate::http::App;
use axum::Router;
use axum::routing::{get, post};

/// Their routes.
pub fn router() -> Router<App> {
    Router::new()
        .route("/P/{code}", get(scanned_sheet::page))
        .route("/kits/{serial}/packs", get(redraw::form).post(redraw::issue))
        .route("/designs/{design}/revisions/{letter}/jobs", post(jobs::create))
        .route("/jobs", get(jobs::all))
        .route("/jobs/{job}", get(jobs::read))
        .route("/jobs/{job}/cancel", post(jobs::cancel))
}
