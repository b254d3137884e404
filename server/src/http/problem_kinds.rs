//! The kinds of problem that the service answers with: those of refusals, and those that only a request has.

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
#[derive(Debug, PartialEq, Eq)]
pub struct RequestKind {
    /// Stable name.
    pub slug: &'static str,
    /// Status of the answer.
    pub status: StatusCode,
    /// A few words.
    pub title: &'static str,
    /// What it means and what to do.
    pub about: &'static str,
}

impl Kind {
    /// Stable name.
    pub fn slug(self) -> &'static str {
        match self {
            Self::Refusal(kind) => kind.slug,
            Self::Request(kind) => kind.slug,
        }
    }

    /// A few words.
    pub fn title(self) -> &'static str {
        match self {
            Self::Refusal(kind) => kind.title,
            Self::Request(kind) => kind.title,
        }
    }

    /// What it means and what to do.
    pub fn about(self) -> &'static str {
        match self {
            Self::Refusal(kind) => kind.about,
            Self::Request(kind) => kind.about,
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
    ($($name:ident $slug:literal $status:ident $title:literal $about:literal;)*) => {
        $(pub const $name: RequestKind = RequestKind {
            slug: $slug,
            status: StatusCode::$status,
            title: $title,
            about: $about,
        };)*
        const ALL: &[RequestKind] = &[$($name),*];
    };
}

kinds! {
    TOKEN_NEEDED "token-needed" UNAUTHORIZED "A token is needed"
        "Send a token that this service gave out, as Authorization: Bearer and the token.";
    TOO_MANY_REQUESTS "too-many-requests" TOO_MANY_REQUESTS "Too many requests"
        "Each token and kit has an allowance of requests a minute, and so has each address for what comes without a good token; RateLimit-Policy says how many. Try again after the time in Retry-After.";
    FORM_REFUSED "form-refused" FORBIDDEN "The form was not taken"
        "A form counts only when it was filled in on a page of this service by who is signed in. Open the page again and send it from there.";
    METHOD_NOT_ALLOWED "method-not-allowed" METHOD_NOT_ALLOWED "Method not allowed"
        "The address is there but does not take this method; the Allow header lists those it takes.";
    BAD_REQUEST "bad-request" BAD_REQUEST "The request cannot be read"
        "A part of the address, the query or a header is not in the form that the API documents.";
    MALFORMED_JSON "malformed-json" BAD_REQUEST "The body is not JSON"
        "The body must be one JSON value in UTF-8; the detail says where reading stopped.";
    TOO_LARGE "too-large" PAYLOAD_TOO_LARGE "The body is too large"
        "A body may have 8 MiB at most, a design file 64 MiB.";
    TOO_SLOW "too-slow" REQUEST_TIMEOUT "The body comes too slowly"
        "For half a minute nothing of the body came, it came more slowly than the service allows, or all of it took more than five minutes. Send it again over a better line.";
    MEDIA_TYPE "media-type" UNSUPPORTED_MEDIA_TYPE "The body has the wrong media type"
        "Send the header Content-Type: application/json, or text/csv for a file of kits.";
    NOT_ACCEPTABLE "not-acceptable" NOT_ACCEPTABLE "No answer of that media type"
        "The Accept header leaves out every media type that this address answers with. Leave the header out, or add */* to it.";
    RANGE_REFUSED "range-refused" RANGE_NOT_SATISFIABLE "The range lies beyond the end"
        "The Range header asks for bytes that the file does not have; Content-Range says how many there are.";
    KEY_MISSING "idempotency-key-missing" BAD_REQUEST "An Idempotency-Key is needed"
        "What this request does must not happen twice when it is sent again. Send an Idempotency-Key of your own choice, such as a random UUID, and the same one with every repeat.";
    NOT_READY "not-ready" SERVICE_UNAVAILABLE "Not ready"
        "The process takes no work at present: it is stopping, its key is not in force, or the database, the store of packs or the disk takes no more. `detail` says which.";
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
