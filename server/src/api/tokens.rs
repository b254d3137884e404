//! New tokens.

use super::App;
use super::body::Json;
use super::caller::{Publisher, Supporter};
use super::problem::Problem;
use crate::service::{NewToken, TokenView};
use axum::extract::{Path, State};
use axum::http::{StatusCode, header};
use axum::response::IntoResponse;

/// Hand out a builder token
///
/// Opens one kit. The token is in this answer and never shown again.
#[utoipa::path(post, path = "/v1/kits/{serial}/tokens", tag = "tokens",
    params(("serial" = String, Path)),
    responses((status = 201, body = TokenView)))]
pub async fn builder(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(serial): Path<String>,
) -> Result<impl IntoResponse, Problem> {
    Ok(shown_once(app.builder_token(&who, &serial).await?))
}

/// Hand out a token for one of the supplier's own people
#[utoipa::path(post, path = "/v1/tokens", tag = "tokens", request_body = NewToken,
    responses((status = 201, body = TokenView)))]
pub async fn supplier(
    State(app): State<App>,
    Publisher(who): Publisher,
    body: Json<NewToken>,
) -> Result<impl IntoResponse, Problem> {
    Ok(shown_once(app.supplier_token(&who, &body.value).await?))
}

fn shown_once(view: TokenView) -> impl IntoResponse {
    let unkept = [(header::CACHE_CONTROL, "no-store")];
    (StatusCode::CREATED, unkept, axum::Json(view))
}
