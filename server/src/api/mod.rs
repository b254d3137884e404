//! The HTTP face: one file a resource, handlers that read the request, call one use case and write the answer.

mod designs;
mod house;
mod kits;
mod notices;
mod packs;
mod people;

use crate::http::App;
use axum::Router;
use utoipa_axum::router::OpenApiRouter;

/// All operations, and the documents that describe them.
pub fn router(app: App) -> Router {
    let (routes, described) = operations().split_for_parts();
    routes.with_state(app).merge(house::openapi::docs(described))
}

/// The operations that the OpenAPI document describes.
fn operations() -> OpenApiRouter<App> {
    OpenApiRouter::with_openapi(house::openapi::heading())
        .merge(designs::operations())
        .merge(kits::operations())
        .merge(packs::operations())
        .merge(notices::operations())
        .merge(people::operations())
        .merge(house::operations())
}
