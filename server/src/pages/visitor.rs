//! Who is signed in, by the cookie of their browser. Cookies count on pages alone; the API takes none.

use super::then::sign_in_before;
use crate::api::App;
use crate::api::problem::Problem;
use axum::extract::FromRequestParts;
use axum::http::request::Parts;
use axum::http::{HeaderMap, HeaderValue, Method, header};
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::asking::Asking;
use matchmark_service::{Principal, SESSION_LASTS};
use matchmark_store::hash::sha256_hex;
use matchmark_store::secret;
use maud::{Markup, html};

/// Someone who is signed in.
pub struct Visitor {
    /// Who.
    pub who: Principal,
    /// What their browser shows.
    pub secret: String,
}

impl Visitor {
    /// What a form must send back to be theirs.
    pub fn form_mark(&self) -> String {
        sha256_hex(format!("matchmark-form/1\n{}\n", self.secret))
    }

    /// The hidden field with it.
    pub fn mark(&self) -> Markup {
        html! { input type="hidden" name="mark" value=(self.form_mark()); }
    }

    /// The hidden fields of a form that must not count twice when it is sent twice.
    pub fn mark_once(&self) -> Markup {
        html! {
            (self.mark())
            input type="hidden" name="once" value=(secret::id());
        }
    }
}

impl FromRequestParts<App> for Visitor {
    type Rejection = Response;

    async fn from_request_parts(parts: &mut Parts, app: &App) -> Result<Self, Response> {
        if let Some(secret) = cookie(&parts.headers, app.is_secure()) {
            let found = app.session(secret).await.map_err(|error| Problem::from(error).into_response())?;
            if let Some(who) = found {
                if let Some(asking) = parts.extensions.get::<Asking>() {
                    asking.is(&who);
                }
                return Ok(Self { who, secret: secret.to_owned() });
            }
        }
        let address = if parts.method == Method::GET { sign_in_before(&parts.uri) } else { "/sign-in".to_owned() };
        Err(Redirect::to(&address).into_response())
    }
}

/// The name of the cookie. Behind TLS it is one that no other host, and no page without TLS, can set.
fn name(secure: bool) -> &'static str {
    if secure { "__Host-matchmark" } else { "matchmark" }
}

/// What a browser shows as its session, good or not.
pub fn shown_session(headers: &HeaderMap) -> Option<&str> {
    cookie(headers, true).or_else(|| cookie(headers, false))
}

/// What the browser of whoever calls shows.
pub fn cookie(headers: &HeaderMap, secure: bool) -> Option<&str> {
    let values = headers.get_all(header::COOKIE).iter().filter_map(|value| value.to_str().ok());
    let mut pairs = values.flat_map(|value| value.split(';')).filter_map(|pair| pair.trim().split_once('='));
    pairs.find(|(key, _)| *key == name(secure)).map(|(_, secret)| secret)
}

/// The header that makes a browser show this from then on, or nothing any more.
pub fn set_cookie(secret: Option<&str>, secure: bool) -> HeaderValue {
    let lasts = if secret.is_some() { SESSION_LASTS.whole_seconds() } else { 0 };
    let tls = if secure { "; Secure" } else { "" };
    let text = format!(
        "{}={}; Path=/; Max-Age={lasts}; HttpOnly; SameSite=Lax{tls}",
        name(secure),
        secret.unwrap_or_default()
    );
    // A secret is letters, digits, hyphens and underscores.
    HeaderValue::from_str(&text).unwrap_or(HeaderValue::from_static(""))
}
