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
        "Each token and each kit may send so many requests a minute, and so may each address without a valid token. RateLimit-Policy says how many. Try again after the time in Retry-After.";
    FORM_REFUSED "form-refused" FORBIDDEN "The form was refused"
        "A form is accepted only from a page of this service, from the person who is signed in. Open the page again and send it from there.";
    METHOD_NOT_ALLOWED "method-not-allowed" METHOD_NOT_ALLOWED "Method not allowed"
        "This address does not accept the method. The Allow header lists the methods that it accepts.";
    BAD_REQUEST "bad-request" BAD_REQUEST "The request cannot be read"
        "A part of the address, the query or a header does not have the form that the API documents.";
    MALFORMED_JSON "malformed-json" BAD_REQUEST "The body is not JSON"
        "The body must be one JSON value in UTF-8. The detail says where reading stopped.";
    TOO_LARGE "too-large" PAYLOAD_TOO_LARGE "The body is too large"
        "A body may have 8 MiB at most, files to import 32 MiB, a design file 64 MiB.";
    TOO_SLOW "too-slow" REQUEST_TIMEOUT "The body comes too slowly"
        "No part of the body arrived for half a minute, it arrived more slowly than the service allows, or all of it took more than five minutes. Send it again over a better connection.";
    MEDIA_TYPE "media-type" UNSUPPORTED_MEDIA_TYPE "The body has the wrong media type"
        "Send the header Content-Type: application/json, or text/csv for a file of kits.";
    NOT_ACCEPTABLE "not-acceptable" NOT_ACCEPTABLE "No answer of that media type"
        "The Accept header names none of the media types that this address can answer with. Leave the header out, or add */* to it.";
    RANGE_REFUSED "range-refused" RANGE_NOT_SATISFIABLE "The range is beyond the end of the file"
        "The Range header asks for bytes beyond the end of the file. Content-Range says how many bytes it has.";
    KEY_MISSING "idempotency-key-missing" BAD_REQUEST "An Idempotency-Key is needed"
        "This request must not take effect twice when it is sent again. Send an Idempotency-Key of your own choice, such as a random UUID, and the same one with every repeat.";
    NOT_READY "not-ready" SERVICE_UNAVAILABLE "Not ready"
        "The process accepts no work at the moment: it is stopping, its key is not in force, or it cannot use the database, the store of packs or the disk. `detail` says which.";
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
