//! Who calls: the bearer token of a request, looked up before anything else is read.

use crate::http::problem::Problem;
use crate::http::{App, problem_kinds as kinds};
use crate::words::of_request;
use axum::extract::FromRequestParts;
use axum::http::header;
use axum::http::request::Parts;
use matchmark_service::Principal;
use matchmark_service::request_identity::RequestIdentity;

/// Anyone with a token, for what changes nothing that is another's, whatever its method: a computation, the end of one's own token.
pub struct Bearer(pub Principal);

/// Anyone with a token that may do what the method does.
pub struct Caller(pub Principal);

/// One of the supplier's own people.
pub struct Supporter(pub Principal);

/// A publisher.
pub struct Publisher(pub Principal);

impl FromRequestParts<App> for Bearer {
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, app: &App) -> Result<Self, Problem> {
        if parts.uri.query().is_some_and(names_a_token) {
            return Err(Problem::new(&kinds::BAD_REQUEST, of_request().requests.token_in_address()));
        }
        let header = parts.headers.get(header::AUTHORIZATION);
        let token = header.and_then(|value| bearer(value.to_str().ok()?));
        let Some(token) = token else {
            return Err(Problem::new(&kinds::TOKEN_NEEDED, of_request().requests.token_missing()));
        };
        match app.principal(token).await? {
            Some(principal) => {
                if let Some(asking) = parts.extensions.get::<RequestIdentity>() {
                    asking.is(&principal);
                }
                Ok(Self(principal))
            }
            None => Err(Problem::new(&kinds::TOKEN_NEEDED, of_request().requests.token_unknown()).of_token()),
        }
    }
}

impl FromRequestParts<App> for Caller {
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, app: &App) -> Result<Self, Problem> {
        let Bearer(principal) = Bearer::from_request_parts(parts, app).await?;
        if !parts.method.is_safe() {
            principal.may_change()?;
        }
        Ok(Self(principal))
    }
}

impl FromRequestParts<App> for Supporter {
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, app: &App) -> Result<Self, Problem> {
        let Caller(principal) = Caller::from_request_parts(parts, app).await?;
        principal.may_support()?;
        Ok(Self(principal))
    }
}

impl FromRequestParts<App> for Publisher {
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, app: &App) -> Result<Self, Problem> {
        let Caller(principal) = Caller::from_request_parts(parts, app).await?;
        principal.may_publish()?;
        Ok(Self(principal))
    }
}

/// Whether a query carries a token as RFC 6750 once allowed it.
fn names_a_token(query: &str) -> bool {
    query.split('&').any(|pair| matches!(pair.split('=').next(), Some("access_token" | "token")))
}

/// The token of an Authorization header.
pub fn bearer(header: &str) -> Option<&str> {
    let (scheme, token) = header.split_once(' ')?;
    scheme.eq_ignore_ascii_case("bearer").then(|| token.trim())
}
