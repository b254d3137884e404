//! Kits.

mod boxes;
mod files;
mod holds;
mod import;
mod measurements;
mod moves;
mod notes;
mod registration;

use crate::http::App;
use utoipa_axum::router::OpenApiRouter;
use utoipa_axum::routes;

/// Their operations.
pub fn operations() -> OpenApiRouter<App> {
    OpenApiRouter::new()
        .routes(routes!(registration::create, registration::list))
        .routes(routes!(registration::read))
        .routes(routes!(import::create))
        .routes(routes!(boxes::write, boxes::read))
        .routes(routes!(holds::put, holds::list))
        .routes(routes!(holds::lift))
        .routes(routes!(moves::create, moves::list))
        .routes(routes!(files::list))
        .routes(routes!(files::read))
        .routes(routes!(notes::add, notes::list))
        .routes(routes!(measurements::add, measurements::read))
        .routes(routes!(measurements::history))
}
