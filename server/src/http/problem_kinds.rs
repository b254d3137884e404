//! The kinds of problem that the service answers with: those of refusals, and those that only a request has.

use crate::words::Words;
use crate::words::groups::request_kinds::RequestKinds;
use axum::http::StatusCode;
use matchmark_service::refusals::{self, Cause};

pub use matchmark_service::refusals::kinds::*;

/// A kind of problem. Its `type` is `/problems/` and its slug, where a page explains it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A kind of refusal.
    Refusal(&'static refusals::Kind),
    /// A kind that only a request has.
    Request(&'static RequestKind),
}

/// What can be wrong with a request before any use case is asked.
#[derive(Debug)]
pub struct RequestKind {
    /// Stable name.
    pub slug: &'static str,
    /// Status of the answer.
    pub status: StatusCode,
    /// A few words.
    title: fn(&RequestKinds) -> &'static str,
    /// What it means and what to do.
    about: fn(&RequestKinds) -> &'static str,
}

/// A kind is known by its name.
impl PartialEq for RequestKind {
    fn eq(&self, other: &Self) -> bool {
        self.slug == other.slug
    }
}

impl Eq for RequestKind {}

impl Kind {
    /// Stable name.
    pub fn slug(self) -> &'static str {
        match self {
            Self::Refusal(kind) => kind.slug,
            Self::Request(kind) => kind.slug,
        }
    }

    /// A few words.
    pub fn title(self, words: &Words) -> &'static str {
        match self {
            Self::Refusal(kind) => kind.title(words.service),
            Self::Request(kind) => (kind.title)(&words.request_kinds),
        }
    }

    /// What it means and what to do.
    pub fn about(self, words: &Words) -> &'static str {
        match self {
            Self::Refusal(kind) => kind.about(words.service),
            Self::Request(kind) => (kind.about)(&words.request_kinds),
        }
    }

    /// Status of the answer.
    pub fn status(self) -> StatusCode {
        match self {
            Self::Refusal(kind) => status_of(kind.cause),
            Self::Request(kind) => kind.status,
        }
    }

    /// All kinds, refusals first.
    pub fn all() -> impl Iterator<Item = Self> {
        refusals::ALL.iter().map(Self::Refusal).chain(ALL.iter().map(Self::Request))
    }
}

impl From<&'static refusals::Kind> for Kind {
    fn from(kind: &'static refusals::Kind) -> Self {
        Self::Refusal(kind)
    }
}

impl From<&'static RequestKind> for Kind {
    fn from(kind: &'static RequestKind) -> Self {
        Self::Request(kind)
    }
}

/// The status that says what stands in the way.
fn status_of(cause: Cause) -> StatusCode {
    match cause {
        Cause::Absent => StatusCode::NOT_FOUND,
        Cause::Gone => StatusCode::GONE,
        Cause::Forbidden => StatusCode::FORBIDDEN,
        Cause::Unproven => StatusCode::UNAUTHORIZED,
        Cause::Conflict => StatusCode::CONFLICT,
        Cause::Unusable => StatusCode::UNPROCESSABLE_ENTITY,
        Cause::TooMany => StatusCode::TOO_MANY_REQUESTS,
        Cause::ConditionNeeded => StatusCode::PRECONDITION_REQUIRED,
        Cause::ConditionFailed => StatusCode::PRECONDITION_FAILED,
        Cause::Away => StatusCode::SERVICE_UNAVAILABLE,
        Cause::NoRoom => StatusCode::INSUFFICIENT_STORAGE,
        Cause::Ours => StatusCode::INTERNAL_SERVER_ERROR,
    }
}

macro_rules! kinds {
    ($($name:ident $slug:literal $status:ident $title:ident $about:ident;)*) => {
        $(pub const $name: RequestKind = RequestKind {
            slug: $slug,
            status: StatusCode::$status,
            title: |says| says.$title(),
            about: |says| says.$about(),
        };)*
        const ALL: &[RequestKind] = &[$($name),*];
    };
}

kinds! {
    TOKEN_NEEDED "token-needed" UNAUTHORIZED token_needed token_needed_about;
    TOO_MANY_REQUESTS "too-many-requests" TOO_MANY_REQUESTS too_many_requests too_many_requests_about;
    FORM_REFUSED "form-refused" FORBIDDEN form_refused form_refused_about;
    METHOD_NOT_ALLOWED "method-not-allowed" METHOD_NOT_ALLOWED method_not_allowed method_not_allowed_about;
    BAD_REQUEST "bad-request" BAD_REQUEST bad_request bad_request_about;
    MALFORMED_JSON "malformed-json" BAD_REQUEST malformed_json malformed_json_about;
    TOO_LARGE "too-large" PAYLOAD_TOO_LARGE too_large too_large_about;
    TOO_SLOW "too-slow" REQUEST_TIMEOUT too_slow too_slow_about;
    MEDIA_TYPE "media-type" UNSUPPORTED_MEDIA_TYPE media_type media_type_about;
    NOT_ACCEPTABLE "not-acceptable" NOT_ACCEPTABLE not_acceptable not_acceptable_about;
    RANGE_REFUSED "range-refused" RANGE_NOT_SATISFIABLE range_refused range_refused_about;
    KEY_MISSING "idempotency-key-missing" BAD_REQUEST key_missing key_missing_about;
    NOT_READY "not-ready" SERVICE_UNAVAILABLE not_ready not_ready_about;
}

/// The kind that fits an error status set by the framework rather than by a handler.
pub fn for_status(status: StatusCode) -> Kind {
    match status {
        StatusCode::NOT_FOUND => (&NOT_FOUND).into(),
        StatusCode::METHOD_NOT_ALLOWED => (&METHOD_NOT_ALLOWED).into(),
        StatusCode::PAYLOAD_TOO_LARGE => (&TOO_LARGE).into(),
        StatusCode::NOT_ACCEPTABLE => (&NOT_ACCEPTABLE).into(),
        StatusCode::UNSUPPORTED_MEDIA_TYPE => (&MEDIA_TYPE).into(),
        _ if status.is_server_error() => (&INTERNAL).into(),
        _ => (&BAD_REQUEST).into(),
    }
}
