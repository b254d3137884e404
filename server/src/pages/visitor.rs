//! Who is signed in, by the cookie of their browser. Cookies count on pages alone; the API takes none.

use crate::http::App;
use crate::http::problem::Problem;
use crate::http::session::cookie;
use crate::pages::return_path::sign_in_before;
use crate::words::{self, Words};
use axum::extract::FromRequestParts;
use axum::http::Method;
use axum::http::request::Parts;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::Principal;
use matchmark_service::request_identity::RequestIdentity;
use matchmark_store::hash::sha256_hex;
use matchmark_store::secret;
use maud::{Markup, html};

/// Someone who is signed in.
pub struct Visitor {
    /// Who.
    pub who: Principal,
    /// What their browser shows.
    pub secret: String,
    /// What pages say, in their language.
    pub words: &'static Words,
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
                if let Some(asking) = parts.extensions.get::<RequestIdentity>() {
                    asking.is(&who);
                }
                return Ok(Self { who, secret: secret.to_owned(), words: words::of(&parts.headers) });
            }
        }
        let address = if parts.method == Method::GET { sign_in_before(&parts.uri) } else { "/sign-in".to_owned() };
        Err(Redirect::to(&address).into_response())
    }
}
