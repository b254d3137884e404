//! Bodies of requests: JSON as text, or read into a type with each fault named by JSON Pointer.

use crate::http::problem::Problem;
use crate::http::problem_kinds as kinds;
use crate::http::strict_json::{invalid, must_be_distinct, pointer, unread};
use crate::words::of_request;
use axum::body::Bytes;
use axum::extract::{FromRequest, Request};
use axum::http::{HeaderMap, StatusCode, header};
use matchmark_service::FieldError;
use serde::de::DeserializeOwned;

/// The most bytes a body may have.
pub const LIMIT: usize = matchmark_core::document::MOST_BYTES;

/// A body that is JSON, as it was sent.
pub struct JsonText(pub String);

/// A body read into a type, with the bytes it was read from.
pub struct Json<T> {
    /// What was read.
    pub value: T,
    /// The bytes.
    pub bytes: Bytes,
}

impl<S: Send + Sync> FromRequest<S> for JsonText {
    type Rejection = Problem;

    async fn from_request(request: Request, state: &S) -> Result<Self, Problem> {
        let bytes = json_bytes(request, state).await?;
        let text = String::from_utf8(bytes.to_vec()).map_err(|error| {
            let place = error.utf8_error().valid_up_to();
            malformed(of_request().bodies.not_utf8_after(place))
        })?;
        must_be_distinct(text.as_bytes())?;
        Ok(Self(text))
    }
}

impl<S: Send + Sync, T: DeserializeOwned> FromRequest<S> for Json<T> {
    type Rejection = Problem;

    async fn from_request(request: Request, state: &S) -> Result<Self, Problem> {
        let bytes = json_bytes(request, state).await?;
        must_be_distinct(&bytes)?;
        // A list would be read as the values of an object, in the order that those happen to have here.
        if bytes.trim_ascii_start().first() == Some(&b'[') {
            let detail = of_request().bodies.no_list().to_owned();
            return Err(invalid(FieldError { pointer: String::new(), detail }));
        }
        let mut reader = serde_json::Deserializer::from_slice(&bytes);
        let value = serde_path_to_error::deserialize(&mut reader).map_err(|error| {
            let pointer = pointer(error.path());
            unread(error.into_inner(), pointer)
        })?;
        reader.end().map_err(|error| unread(error, String::new()))?;
        Ok(Self { value, bytes })
    }
}

async fn json_bytes<S: Send + Sync>(request: Request, state: &S) -> Result<Bytes, Problem> {
    if !is_json(request.headers()) {
        return Err(Problem::of(&kinds::MEDIA_TYPE));
    }
    let bytes = Bytes::from_request(request, state).await.map_err(|error| {
        if error.status() == StatusCode::PAYLOAD_TOO_LARGE {
            Problem::of(&kinds::TOO_LARGE)
        } else {
            Problem::new(&kinds::BAD_REQUEST, of_request().bodies.ended_early())
        }
    })?;
    // A byte order mark may be passed over (RFC 8259, section 8.1).
    Ok(if bytes.starts_with(b"\xef\xbb\xbf") { bytes.slice(3..) } else { bytes })
}

fn is_json(headers: &HeaderMap) -> bool {
    let value = headers.get(header::CONTENT_TYPE);
    let essence = value.and_then(|value| value.to_str().ok()).and_then(|value| value.split(';').next());
    essence.is_some_and(|essence| essence.trim().eq_ignore_ascii_case("application/json"))
}

fn malformed(detail: String) -> Problem {
    Problem::new(&kinds::MALFORMED_JSON, detail)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::http::problem_kinds::Kind;
    use crate::words::EN;

    #[test]
    fn the_limit_is_the_one_that_the_problem_tells() {
        let told = format!("{} MiB", LIMIT / 1024 / 1024);
        assert!(Kind::from(&kinds::TOO_LARGE).about(&EN).contains(&told));
    }
}
