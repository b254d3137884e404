//! Kits.

pub mod files;
pub mod hold;
pub mod import;
pub mod kit;
pub mod list;
pub mod measurements;

use crate::http::App;
use axum::Router;
use axum::routing::{get, post};

/// Their routes.
pub fn router() -> Router<App> {
    Router::new()
        .route("/kits", get(list::list))
        .route("/kits/new", get(list::new).post(list::create))
        .route("/kits/import", get(import::form).post(import::import))
        .route("/kits/{serial}", get(kit::page))
        .route("/kits/{serial}/card", post(list::card))
        .route("/kits/{serial}/packs/{number}", get(kit::download))
        .route("/kits/{serial}/files/{file}", get(files::download))
        .route("/kits/{serial}/holds", get(hold::form).post(hold::put))
        .route("/kits/{serial}/holds/{hold}/lifting", post(hold::lift))
        .route("/kits/{serial}/measurements", get(measurements::form).post(measurements::add))
}
