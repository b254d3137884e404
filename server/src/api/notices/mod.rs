//! What holders are told.

mod deliveries;
mod raising;
mod stop_sheets;

use crate::http::App;
use utoipa_axum::router::OpenApiRouter;
use utoipa_axum::routes;

/// Their operations.
pub fn operations() -> OpenApiRouter<App> {
    OpenApiRouter::new()
        .routes(routes!(raising::raise, raising::list))
        .routes(routes!(raising::read))
        .routes(routes!(raising::outstanding))
        .routes(routes!(raising::of_kit))
        .routes(routes!(raising::pages))
        .routes(routes!(raising::acknowledge))
        .routes(routes!(raising::complete))
        .routes(routes!(stop_sheets::list))
        .routes(routes!(stop_sheets::read))
        .routes(routes!(stop_sheets::pdf))
        .routes(routes!(stop_sheets::acknowledge))
        .routes(routes!(deliveries::list))
        .routes(routes!(deliveries::retry))
}
