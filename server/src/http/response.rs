//! The outermost layer: request id, problem bodies, headers that every answer carries, one line of log.

use crate::http::accept::Accepted;
use crate::http::problem::Problem;
use crate::http::session::cookie;
use crate::http::{App, problem_kinds};
use crate::words::{self, Words};
use axum::body::Body;
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use matchmark_service::Principal;
use matchmark_store::secret;
use std::time::Instant;
use tracing::Instrument;

const REQUEST_ID: HeaderName = HeaderName::from_static("x-request-id");

const PAGE_POLICY: &str =
    "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";
/// The pages of the API's description come with a script of their own and styles set by it.
const DOCS_POLICY: &str = "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// What every answer carries. The referrer goes to ourselves alone: without any, browsers would not say where a form came from.
const FIXED: [(HeaderName, HeaderValue); 5] = [
    (header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff")),
    (header::REFERRER_POLICY, HeaderValue::from_static("same-origin")),
    (
        HeaderName::from_static("permissions-policy"),
        HeaderValue::from_static("camera=(), geolocation=(), microphone=(), payment=(), usb=()"),
    ),
    (HeaderName::from_static("cross-origin-opener-policy"), HeaderValue::from_static("same-origin")),
    (HeaderName::from_static("cross-origin-resource-policy"), HeaderValue::from_static("same-origin")),
];

/// How a problem is shown to people.
#[derive(Clone, Copy)]
pub struct ProblemPage {
    /// The words of the page that a request is answered with when it fails; `None` when it is not answered with one.
    pub words: fn(&str, &HeaderMap) -> Option<&'static Words>,
    /// The page of a problem: in the name of the supplier, for whoever is signed in, with the id of the request.
    pub page: fn(&'static Words, &str, Option<Session>, &Problem, &str) -> String,
}

/// Who is signed in, and the secret of their session.
pub type Session = (Principal, String);

/// Wraps every answer.
pub async fn complete(state: State<(App, ProblemPage)>, request: Request, next: Next) -> Response {
    let words = words::of(request.headers());
    words::answer_problems_in(words, completed(state, request, next)).await
}

async fn completed(State((app, shown)): State<(App, ProblemPage)>, request: Request, next: Next) -> Response {
    let begun = Instant::now();
    let id = request_id(request.headers());
    let method = request.method().clone();
    let path = request.uri().path().to_owned();
    let words = (shown.words)(&path, request.headers());
    let secret = words.and_then(|_| cookie(request.headers(), app.is_secure())).map(str::to_owned);
    let accept = Accepted::of(&method, request.headers());
    let span = tracing::info_span!("request", id);
    let mut response = next.run(request).instrument(span).await;
    if response.status() == StatusCode::OK && !accept.takes_answer(response.headers()) {
        response = Problem::of(&problem_kinds::NOT_ACCEPTABLE).into_response();
    }
    if let Some(problem) = problem_of(&mut response) {
        if problem.is(&problem_kinds::NOT_SYNCED) {
            app.give_up();
        }
        let session = match secret {
            Some(secret) if problem.is_of_the_request() => session(&app, secret).await,
            _ => None,
        };
        let is_own = session.is_some();
        let page = words.map(|words| (shown.page)(words, app.supplier(), session, &problem, &id));
        response = problem.finish(response, &id);
        if let Some(page) = page {
            *response.body_mut() = Body::from(page);
            let headers = response.headers_mut();
            headers.insert(header::CONTENT_TYPE, HeaderValue::from_static("text/html; charset=utf-8"));
            if is_own {
                headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
            }
        }
    }
    let status = response.status().as_u16();
    let headers = response.headers_mut();
    if let Ok(value) = HeaderValue::from_str(&id) {
        headers.insert(REQUEST_ID, value);
    }
    let policy = if path.starts_with("/docs") { DOCS_POLICY } else { PAGE_POLICY };
    headers.insert(header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(policy));
    headers.extend(FIXED);
    if app.is_secure() {
        headers.insert(header::STRICT_TRANSPORT_SECURITY, HeaderValue::from_static("max-age=31536000"));
    }
    // Without it a cache may judge for itself how long an answer is good (RFC 9111, section 4.2.2), of a file or a page as well.
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("private, no-cache"));
    let milliseconds = u64::try_from(begun.elapsed().as_millis()).unwrap_or(u64::MAX);
    tracing::info!(id, %method, path, status, milliseconds, "answered");
    response
}

/// Who is signed in with this secret; nobody where that cannot be found out, for the problem is to be told all the same.
async fn session(app: &App, secret: String) -> Option<Session> {
    let who = app.session(&secret).await.ok().flatten()?;
    Some((who, secret))
}

/// The problem that an answer stands for: set by a handler, or by the framework as a bare status. A page that shows what is wrong
/// with a form has said it already.
fn problem_of(response: &mut Response) -> Option<Problem> {
    if let Some(problem) = response.extensions_mut().remove::<Problem>() {
        return Some(problem);
    }
    let failed = response.status().is_client_error() || response.status().is_server_error();
    let html =
        response.headers().get(header::CONTENT_TYPE).is_some_and(|kind| kind.as_bytes().starts_with(b"text/html"));
    (failed && !html).then(|| Problem::of(problem_kinds::for_status(response.status())))
}

/// The caller's request id when it is short and plain, else a new one.
fn request_id(headers: &HeaderMap) -> String {
    let plain = |id: &&str| {
        (1..=64).contains(&id.len()) && id.bytes().all(|b| b.is_ascii_alphanumeric() || b"-_.".contains(&b))
    };
    headers.get(REQUEST_ID).and_then(|value| value.to_str().ok()).filter(plain).map_or_else(secret::id, str::to_owned)
}
