//! Tokens: made, listed, rotated, revoked.

use crate::http::body::Json;
use crate::http::caller::{Bearer, Publisher, Supporter};
use crate::http::conditions::once;
use crate::http::problem::Problem;
use crate::http::query::{PageWanted, Query};
use crate::http::{App, paging};
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::IntoResponse;
use matchmark_service::{NewToken, TokenFacts, TokenView};
use serde::Serialize;
use utoipa::ToSchema;

/// Hand out a builder token
///
/// Opens one kit. The token is in this answer, and only a repeat with the same key shows it again.
#[utoipa::path(post, path = "/v1/kits/{serial}/tokens", operation_id = "createBuilderToken", tag = "tokens",
    params(("serial" = String, Path), ("Idempotency-Key" = Option<String>, Header)),
    responses((status = 201, body = TokenView)))]
pub async fn builder(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(serial): Path<String>,
    headers: HeaderMap,
) -> Result<impl IntoResponse, Problem> {
    let once = once(&headers, &who, format!("kits/{serial}/tokens"), &[])?;
    Ok(shown_once(app.builder_token(&who, &serial, &once).await?))
}

/// Hand out a token for one of the supplier's own people
///
/// The token is in this answer, and only a repeat with the same key shows it again.
#[utoipa::path(post, path = "/v1/tokens", operation_id = "createToken", tag = "tokens", request_body = NewToken,
    params(("Idempotency-Key" = Option<String>, Header)),
    responses((status = 201, body = TokenView)))]
pub async fn supplier(
    State(app): State<App>,
    Publisher(who): Publisher,
    headers: HeaderMap,
    body: Json<NewToken>,
) -> Result<impl IntoResponse, Problem> {
    let once = once(&headers, &who, "tokens".to_owned(), &body.bytes)?;
    Ok(shown_once(app.supplier_token(&who, &body.value, &once).await?))
}

/// A page of tokens.
#[derive(Serialize, ToSchema)]
pub struct Tokens {
    tokens: Vec<TokenFacts>,
    /// Cursor of the next page; absent on the last.
    #[serde(skip_serializing_if = "Option::is_none")]
    next: Option<String>,
}

/// List tokens
///
/// With what each is good for and when it ends, never with what it shows.
#[utoipa::path(get, path = "/v1/tokens", operation_id = "listTokens", tag = "tokens", params(PageWanted),
    responses((status = 200, body = Tokens)))]
pub async fn list(
    State(app): State<App>,
    Publisher(who): Publisher,
    Query(wanted): Query<PageWanted>,
) -> Result<(HeaderMap, axum::Json<Tokens>), Problem> {
    let page = paging::page(wanted.page_size, wanted.cursor.as_deref(), "tokens")?;
    let listed = app.tokens(&who, &page).await?;
    let next = listed.next_after.map(|after| paging::cursor(&after, "tokens"));
    let size = wanted.page_size.map(|size| format!("page_size={size}")).unwrap_or_default();
    let link = paging::link("/v1/tokens", &size, next.as_ref());
    let tokens = listed.items;
    Ok((link, axum::Json(Tokens { tokens, next })))
}

/// Revoke a token
///
/// Ends it at once. A publisher may end any, everyone their own: that is signing out.
#[utoipa::path(delete, path = "/v1/tokens/{token}", operation_id = "revokeToken", tag = "tokens",
    params(("token" = String, Path, description = "Its id")),
    responses((status = 204, description = "Ended")))]
pub async fn revoke(
    State(app): State<App>,
    Bearer(who): Bearer,
    Path(token): Path<String>,
) -> Result<StatusCode, Problem> {
    app.revoke_token(&who, &token).await?;
    Ok(StatusCode::NO_CONTENT)
}

/// Rotate a token
///
/// Ends it and gives a new one for the same, to be sent from then on. A publisher may rotate any, everyone their own. A repeat with the
/// same key shows the new one again, but not to a token that rotated itself: that one has ended, and a repeat gets 401. To lose nothing
/// with a lost answer, let another token rotate it, or hand out a new one first and revoke the old one then.
#[utoipa::path(post, path = "/v1/tokens/{token}/rotation", operation_id = "rotateToken", tag = "tokens",
    params(("token" = String, Path, description = "Its id"), ("Idempotency-Key" = Option<String>, Header)),
    responses((status = 201, body = TokenView)))]
pub async fn rotate(
    State(app): State<App>,
    Bearer(who): Bearer,
    Path(token): Path<String>,
    headers: HeaderMap,
) -> Result<impl IntoResponse, Problem> {
    let once = once(&headers, &who, format!("tokens/{token}/rotation"), &[])?;
    Ok(shown_once(app.rotate_token(&who, &token, &once).await?))
}

/// An answer that no one on the way keeps.
pub fn shown_once(view: TokenView) -> impl IntoResponse {
    let unkept = [(header::CACHE_CONTROL, "no-store")];
    (StatusCode::CREATED, unkept, axum::Json(view))
}
