//! Packs.

mod downloads;
mod files;
mod job_events;
mod jobs;
mod scanned_sheet;

use crate::http::App;
use utoipa_axum::router::OpenApiRouter;
use utoipa_axum::routes;

/// Their operations.
pub fn operations() -> OpenApiRouter<App> {
    OpenApiRouter::new()
        .routes(routes!(files::issue, files::list))
        .routes(routes!(files::read))
        .routes(routes!(files::file))
        .routes(routes!(files::manifest))
        .routes(routes!(downloads::list))
        .routes(routes!(jobs::create))
        .routes(routes!(jobs::list))
        .routes(routes!(jobs::read))
        .routes(routes!(jobs::kits))
        .routes(routes!(jobs::events))
        .routes(routes!(jobs::cancel))
        .routes(routes!(scanned_sheet::status))
        .routes(routes!(scanned_sheet::file))
        .routes(routes!(scanned_sheet::public_key))
}
