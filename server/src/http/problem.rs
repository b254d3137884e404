//! Problem details (RFC 9457): every error of the service in one shape.

use crate::http::problem_kinds::{self as kinds, Kind};
use crate::words::{Words, of_request};
use axum::body::Body;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use matchmark_core::document::Finding;
use matchmark_service::{FieldError, ServiceError};
use serde::Serialize;
use utoipa::ToSchema;

/// The body of every error.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ProblemDetails {
    /// Address of a page about this kind of problem; stable, so that programs can tell kinds apart.
    #[serde(rename = "type")]
    pub kind: String,
    /// The kind in a few words.
    pub title: &'static str,
    /// The status of the answer.
    pub status: u16,
    /// What is the matter this time and what to do.
    pub detail: String,
    /// Id of the request, as in the header X-Request-Id and in the log.
    pub request_id: String,
    /// Stable code of the engine's cause.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub code: Option<&'static str>,
    /// The values that will not do.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub errors: Vec<FieldError>,
    /// The findings that stand in the way.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub findings: Vec<Finding>,
}

/// A problem on its way out. The outermost layer gives it the request's id and writes the body.
#[derive(Debug, Clone)]
pub struct Problem {
    kind: Kind,
    detail: String,
    also: Also,
    /// In a box, so that an answer that may fail stays small.
    more: Box<More>,
}

/// What some problems say besides.
#[derive(Debug, Clone, Default)]
struct More {
    code: Option<&'static str>,
    errors: Vec<FieldError>,
    findings: Vec<Finding>,
    /// Where in the API to look next.
    in_the_api: Option<String>,
    /// What to read first, and the page where it is.
    first: Option<(&'static str, String)>,
}

/// What a header of the answer says besides.
#[derive(Debug, Clone, Copy)]
enum Also {
    Nothing,
    /// That there was a token and it is not good.
    TokenRefused,
    /// Seconds to wait.
    RetryAfter(u64),
    /// Bytes of the file that a range does not lie in.
    Length(usize),
}

impl Problem {
    /// A problem of this kind.
    pub fn new(kind: impl Into<Kind>, detail: impl Into<String>) -> Self {
        let kind = kind.into();
        Self {
            kind,
            detail: detail.into(),
            also: match kind.status() {
                StatusCode::SERVICE_UNAVAILABLE => Also::RetryAfter(5),
                _ => Also::Nothing,
            },
            more: Box::default(),
        }
    }

    /// A problem of which nothing is known but its kind.
    pub fn of(kind: impl Into<Kind>) -> Self {
        let kind = kind.into();
        Self::new(kind, kind.about(of_request()))
    }

    /// The same with what is wrong in the body.
    pub fn with_errors(mut self, errors: Vec<FieldError>) -> Self {
        self.more.errors = errors;
        self
    }

    /// The same with a page that is to be read first.
    pub fn after_reading(mut self, what: &'static str, page: String) -> Self {
        self.more.first = Some((what, page));
        self
    }

    /// What is to be read first, and the page where it is.
    pub fn first(&self) -> Option<(&'static str, &str)> {
        self.more.first.as_ref().map(|(what, page)| (*what, page.as_str()))
    }

    /// The same with how many seconds to wait.
    pub fn retry_after(mut self, seconds: u64) -> Self {
        self.also = Also::RetryAfter(seconds);
        self
    }

    /// The same for a token that is not good.
    pub fn of_token(mut self) -> Self {
        self.also = Also::TokenRefused;
        self
    }

    /// The same with how many bytes the file has.
    pub fn with_length(mut self, length: usize) -> Self {
        self.also = Also::Length(length);
        self
    }

    /// Whether it is of this kind.
    pub fn is(&self, kind: impl Into<Kind>) -> bool {
        self.kind == kind.into()
    }

    /// Whether it lies in what was asked, by someone who may be signed in, and not in the service or in how often it is asked.
    pub fn is_of_the_request(&self) -> bool {
        let status = self.kind.status();
        status.is_client_error() && !matches!(status, StatusCode::UNAUTHORIZED | StatusCode::TOO_MANY_REQUESTS)
    }

    /// The kind in a few words.
    pub fn title(&self, words: &Words) -> &'static str {
        self.kind.title(words)
    }

    /// What is the matter and what to do, for people: without where in the API to look next.
    pub fn detail(&self) -> &str {
        &self.detail
    }

    /// What is wrong in the body or the design, a sentence each.
    pub fn details(&self) -> Vec<&str> {
        let errors = self.more.errors.iter().map(|error| error.detail.as_str());
        errors.chain(self.more.findings.iter().map(|finding| finding.message.as_str())).collect()
    }

    /// The finished answer; headers that are there already stay.
    pub fn finish(self, mut response: Response, request_id: &str) -> Response {
        let details = ProblemDetails {
            kind: format!("/problems/{}", self.kind.slug()),
            title: self.kind.title(of_request()),
            status: self.kind.status().as_u16(),
            detail: match self.more.in_the_api {
                Some(look) => format!("{} {look}", self.detail),
                None => self.detail,
            },
            request_id: request_id.to_owned(),
            code: self.more.code,
            errors: self.more.errors,
            findings: self.more.findings,
        };
        *response.status_mut() = self.kind.status();
        // The shape holds nothing that JSON cannot carry; an empty body would still have the right status.
        *response.body_mut() = Body::from(serde_json::to_vec(&details).unwrap_or_default());
        let headers = response.headers_mut();
        headers.remove(header::CONTENT_LENGTH);
        headers.insert(header::CONTENT_TYPE, HeaderValue::from_static("application/problem+json"));
        // RFC 6750, section 3.
        let challenge = match self.also {
            Also::TokenRefused => Some("Bearer realm=\"matchmark\", error=\"invalid_token\""),
            _ if self.kind == Kind::from(&kinds::ROLE_NEEDED) => {
                Some("Bearer realm=\"matchmark\", error=\"insufficient_scope\"")
            }
            _ => (self.kind.status() == StatusCode::UNAUTHORIZED).then_some("Bearer realm=\"matchmark\""),
        };
        if let Some(challenge) = challenge {
            headers.insert(header::WWW_AUTHENTICATE, HeaderValue::from_static(challenge));
        }
        match self.also {
            Also::Nothing | Also::TokenRefused => {}
            Also::RetryAfter(seconds) => {
                headers.insert(header::RETRY_AFTER, HeaderValue::from(seconds));
            }
            Also::Length(length) => {
                if let Ok(value) = HeaderValue::from_str(&format!("bytes */{length}")) {
                    headers.insert(header::CONTENT_RANGE, value);
                }
            }
        }
        response
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        let mut response = self.kind.status().into_response();
        response.extensions_mut().insert(self);
        response
    }
}

impl From<ServiceError> for Problem {
    fn from(error: ServiceError) -> Self {
        let kind = error.kind();
        let words = of_request();
        let says = &words.requests;
        if *kind == kinds::INTERNAL {
            tracing::error!(%error, "a request failed");
            return Self::new(kind, says.failed());
        }
        let problem =
            if *kind == kinds::NOT_FOUND { Self::of(kind) } else { Self::new(kind, error.said(words.service)) };
        let mut problem = problem.with_errors(error.errors());
        problem.more.findings = error.findings().to_vec();
        problem.more.code = error.code();
        problem.more.in_the_api = error.in_the_api(words.service);
        if let Some(seconds) = error.wait() {
            problem = problem.retry_after(seconds);
        }
        match error.stop_sheet() {
            Some((kit, letter)) => {
                problem.after_reading(says.read_stop_sheet(), format!("/kits/{kit}/stop-sheets/{letter}"))
            }
            None => problem,
        }
    }
}
