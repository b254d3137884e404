//! `/v1/sign-in`

use crate::api::people::tokens::shown_once;
use crate::http::App;
use crate::http::body::Json;
use crate::http::problem::Problem;
use crate::listen::Peer;
use axum::Extension;
use axum::extract::State;
use axum::response::IntoResponse;
use matchmark_service::{SignIn, TokenView};

/// Sign in as the builder of a kit
///
/// With the serial and the access code on the card of the kit. The answer is a token of twelve hours for this one kit. After twenty
/// failures from an address, or a /64 of IPv6, within a quarter of an hour the answer there is 429 with `Retry-After`; from elsewhere the right
/// code opens at once.
#[utoipa::path(post, path = "/v1/sign-in", operation_id = "signIn", tag = "tokens", request_body = SignIn, security(()),
    responses((status = 201, body = TokenView)))]
pub async fn sign_in(
    State(app): State<App>,
    peer: Option<Extension<Peer>>,
    body: Json<SignIn>,
) -> Result<impl IntoResponse, Problem> {
    let address = peer.map(|Extension(Peer(address))| address.ip());
    Ok(shown_once(app.sign_in(&body.value, address).await?))
}
