//! Who acts.

mod access_code;
mod customers;
mod sign_in;
mod support;
mod tokens;

use crate::http::App;
use utoipa_axum::router::OpenApiRouter;
use utoipa_axum::routes;

/// Their operations.
pub fn operations() -> OpenApiRouter<App> {
    OpenApiRouter::new()
        .routes(routes!(access_code::renew))
        .routes(routes!(customers::list))
        .routes(routes!(customers::read))
        .routes(routes!(customers::export))
        .routes(routes!(customers::erase))
        .routes(routes!(tokens::builder))
        .routes(routes!(tokens::supplier, tokens::list))
        .routes(routes!(tokens::revoke))
        .routes(routes!(tokens::rotate))
        .routes(routes!(sign_in::sign_in))
        .routes(routes!(support::look_up))
}
