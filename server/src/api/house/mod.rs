//! The service itself.

mod contact;
mod events;
mod health;
pub mod openapi;
mod schemas;

use crate::http::App;
use utoipa_axum::router::OpenApiRouter;
use utoipa_axum::routes;

/// Their operations.
pub fn operations() -> OpenApiRouter<App> {
    OpenApiRouter::new()
        .routes(routes!(contact::read, contact::write))
        .routes(routes!(events::list))
        .routes(routes!(schemas::design))
        .routes(routes!(health::alive))
        .routes(routes!(health::ready))
}
