//! What holders are told.

pub mod builder;
pub mod outstanding;
pub mod raise;
pub mod recalled;
pub mod stop_sheet;

use crate::http::App;
use axum::Router;
use axum::routing::{get, post};

/// Their routes.
pub fn router() -> Router<App> {
    Router::new()
        .route("/kits/{serial}/notices/{number}/pages", get(builder::pages))
        .route("/kits/{serial}/notices/{number}/seen", post(builder::seen))
        .route("/kits/{serial}/notices/{number}/done", post(builder::done))
        .route("/kits/{serial}/stop-sheets/{letter}", get(stop_sheet::read).post(stop_sheet::acknowledge))
        .route("/kits/{serial}/stop-sheets/{letter}/print", get(stop_sheet::print))
        .route("/designs/{design}/notices/new", get(raise::form).post(raise::raise))
        .route("/notices", get(outstanding::outstanding))
}
