//! `/v1/kits/{serial}/access-code`

use crate::http::App;
use crate::http::caller::Supporter;
use crate::http::conditions::once;
use crate::http::problem::Problem;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::IntoResponse;
use matchmark_service::AccessCard;

/// Give a kit a new access code
///
/// The answer is the card to print and send with the kit. Only a repeat with the same key shows the code again; the one before ends at
/// once, and with it every sign-in that was made with it.
#[utoipa::path(post, path = "/v1/kits/{serial}/access-code", operation_id = "renewAccessCode", tag = "kits",
    params(("serial" = String, Path), ("Idempotency-Key" = Option<String>, Header)),
    responses((status = 201, body = AccessCard)))]
pub async fn renew(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(serial): Path<String>,
    headers: HeaderMap,
) -> Result<impl IntoResponse, Problem> {
    let once = once(&headers, &who, format!("kits/{serial}/access-code"), &[])?;
    let card = app.new_access_code(&who, &serial, &once).await?;
    Ok((StatusCode::CREATED, [(header::CACHE_CONTROL, "no-store")], axum::Json(card)))
}
