//! `/v1/kits/{serial}/access-code`

use super::App;
use super::caller::Supporter;
use super::problem::Problem;
use crate::secret;
use crate::service::{AccessCard, Once};
use axum::extract::{Path, State};
use axum::http::{StatusCode, header};
use axum::response::IntoResponse;

/// Give a kit a new access code
///
/// The answer is the card to print and put in the box. The code is never shown again; the one before ends at once, and with it
/// every sign-in that was made with it.
#[utoipa::path(post, path = "/v1/kits/{serial}/access-code", tag = "kits",
    params(("serial" = String, Path)),
    responses((status = 201, body = AccessCard)))]
pub async fn renew(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(serial): Path<String>,
) -> Result<impl IntoResponse, Problem> {
    let once = Once::new(&who.token, String::new(), None, &[]);
    let card = app.new_access_code(&who, &serial, &secret::access_code(), &once).await?;
    Ok((StatusCode::CREATED, [(header::CACHE_CONTROL, "no-store")], axum::Json(card)))
}
