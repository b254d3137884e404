//! A form that someone sent: from our own pages, by who is signed in, and once.

use crate::http::problem::Problem;
use crate::http::{App, problem_kinds as kinds};
use crate::pages::form::fields::FormFields;
use crate::pages::visitor::Visitor;
use crate::words::{self, Words};
use axum::body::Bytes;
use axum::extract::{FromRequest, FromRequestParts, Request};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use matchmark_service::IdempotentCall;

/// A form with its sender.
pub struct Submission {
    /// Who sent it.
    pub visitor: Visitor,
    /// What they filled in.
    pub form: FormFields,
    /// The path that it was sent to.
    pub place: String,
    bytes: Bytes,
}

impl Submission {
    /// Its identity: sent again from the same page, as by a second click, it has its effect once.
    pub fn once(&self, route: &str) -> IdempotentCall {
        let key = Some(self.form.get("once")).filter(|key| (1..=128).contains(&key.len())).map(str::to_owned);
        IdempotentCall::new(&self.visitor.who.token, format!("pages/{route}"), key, &self.bytes)
    }
}

impl FromRequest<App> for Submission {
    type Rejection = Response;

    async fn from_request(request: Request, app: &App) -> Result<Self, Response> {
        let (mut parts, body) = request.into_parts();
        from_here(&parts.headers).map_err(IntoResponse::into_response)?;
        let visitor = Visitor::from_request_parts(&mut parts, app).await?;
        if parts.uri.path() != "/sign-out" {
            visitor.who.may_change().map_err(|error| Problem::from(error).into_response())?;
        }
        let place = parts.uri.path().to_owned();
        let (form, bytes) =
            read(visitor.words, Request::from_parts(parts, body), app).await.map_err(IntoResponse::into_response)?;
        if form.get("mark") != visitor.form_mark() {
            return Err(foreign(visitor.words.bodies.form_of_another_session()).into_response());
        }
        Ok(Self { visitor, form, place, bytes })
    }
}

/// A form from our own pages, by whoever.
pub struct Sent(pub FormFields);

impl FromRequest<App> for Sent {
    type Rejection = Problem;

    async fn from_request(request: Request, app: &App) -> Result<Self, Problem> {
        from_here(request.headers())?;
        let words = words::of(request.headers());
        Ok(Self(read(words, request, app).await?.0))
    }
}

async fn read(words: &'static Words, request: Request, app: &App) -> Result<(FormFields, Bytes), Problem> {
    let kind = request.headers().get(header::CONTENT_TYPE).and_then(|value| value.to_str().ok()).unwrap_or_default();
    if !kind.starts_with("application/x-www-form-urlencoded") {
        return Err(Problem::new(&kinds::MEDIA_TYPE, words.bodies.form_wanted()));
    }
    let bytes = Bytes::from_request(request, app).await.map_err(|error| match error.status() {
        StatusCode::PAYLOAD_TOO_LARGE => Problem::of(&kinds::TOO_LARGE),
        _ => Problem::new(&kinds::BAD_REQUEST, words.bodies.form_ended_early()),
    })?;
    Ok((FormFields::read(words, &bytes)?, bytes))
}

/// Refuses what another site made a browser send. Browsers say where a request comes from in `Sec-Fetch-Site`, or at least in
/// `Origin`; what says neither is no browser of today.
fn from_here(headers: &HeaderMap) -> Result<(), Problem> {
    let text = |name: &str| headers.get(name).and_then(|value| value.to_str().ok());
    let ours = match (text("sec-fetch-site"), text("origin")) {
        (Some(site), _) => site == "same-origin",
        (None, Some(origin)) => {
            let host = origin.split_once("://").map(|(_, host)| host);
            host.is_some() && host == text("host")
        }
        (None, None) => false,
    };
    if ours { Ok(()) } else { Err(foreign(words::of(headers).bodies.form_from_elsewhere())) }
}

fn foreign(detail: &str) -> Problem {
    Problem::new(&kinds::FORM_REFUSED, detail)
}
