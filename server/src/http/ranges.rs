//! Bytes that never change, handed out whole or in part (RFC 9110, section 14), so that a download that broke off goes on.

use crate::http::conditions::{etag, has_already};
use crate::http::problem::Problem;
use crate::http::problem_kinds as kinds;
use crate::words::of_request;
use axum::body::Bytes;
use axum::http::{HeaderMap, HeaderName, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use data_encoding::{BASE64, HEXLOWER};

const REPR_DIGEST: HeaderName = HeaderName::from_static("repr-digest");

/// The bytes never change, but whoever has them may not have them for ever: a sign-out, a hold or a recall comes before them. They are kept
/// and never shown without asking (RFC 9111, section 5.2.2.4); the answer to that is given only after it was seen who asks.
const KEPT: HeaderValue = HeaderValue::from_static("private, no-cache");

/// What of a file is handed out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ByteRange {
    /// Nothing: the caller has it already.
    None,
    /// All of it.
    Whole,
    /// From the first to the last byte named, both included.
    Between(usize, usize),
}

impl ByteRange {
    /// What the caller asks for of a file with this hash and length. Several ranges at once are answered with the whole file.
    pub fn asked(headers: &HeaderMap, sha256: &str, length: usize) -> Result<Self, Problem> {
        if has_already(headers, sha256) {
            return Ok(Self::None);
        }
        let Some(range) = headers.get(header::RANGE).and_then(|value| value.to_str().ok()) else {
            return Ok(Self::Whole);
        };
        if headers.get(header::IF_RANGE).is_some_and(|tag| *tag != etag(sha256)) {
            return Ok(Self::Whole);
        }
        match read(range, length) {
            Some(Some((first, last))) => Ok(Self::Between(first, last)),
            Some(None) => {
                Err(Problem::new(&kinds::RANGE_REFUSED, of_request().requests.range(length)).with_length(length))
            }
            None => Ok(Self::Whole),
        }
    }

    /// Whether it is where a download begins.
    pub fn begins(self) -> bool {
        matches!(self, Self::Whole | Self::Between(0, _))
    }

    /// The answer with this part of the bytes.
    pub fn answer(self, bytes: Vec<u8>, sha256: &str) -> Response {
        let bytes = Bytes::from(bytes);
        let length = bytes.len();
        let mut response = match self {
            Self::None => StatusCode::NOT_MODIFIED.into_response(),
            Self::Whole => bytes.into_response(),
            Self::Between(first, last) => {
                let part = bytes.slice(first..=last);
                let range = format!("bytes {first}-{last}/{length}");
                (StatusCode::PARTIAL_CONTENT, [(header::CONTENT_RANGE, range)], part).into_response()
            }
        };
        let headers = response.headers_mut();
        headers.insert(header::ETAG, etag(sha256));
        headers.insert(header::CACHE_CONTROL, KEPT);
        headers.insert(header::ACCEPT_RANGES, HeaderValue::from_static("bytes"));
        if let Some(digest) = digest(sha256) {
            headers.insert(REPR_DIGEST, digest);
        }
        response
    }
}

/// The one range of a header: `None` when it is none or not one, `Some(None)` when no byte lies in it.
fn read(header: &str, length: usize) -> Option<Option<(usize, usize)>> {
    let (unit, range) = header.split_once('=')?;
    if !unit.trim().eq_ignore_ascii_case("bytes") || range.contains(',') {
        return None;
    }
    let (first, last) = range.trim().split_once('-')?;
    let number = |text: &str| -> Option<usize> {
        let digits = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
        // A number too large for us lies beyond the end of every file.
        digits.then(|| text.parse().unwrap_or(usize::MAX))
    };
    let (first, last) = match (first, last) {
        ("", last) => {
            let wanted = number(last)?;
            if wanted == 0 || length == 0 {
                return Some(None);
            }
            (length.saturating_sub(wanted), length - 1)
        }
        (first, "") => (number(first)?, usize::MAX),
        (first, last) => (number(first)?, number(last)?),
    };
    if last < first {
        return None;
    }
    Some((first < length).then(|| (first, last.min(length - 1))))
}

/// The hash of the whole file as RFC 9530 has it.
fn digest(sha256: &str) -> Option<HeaderValue> {
    let raw = HEXLOWER.decode(sha256.as_bytes()).ok()?;
    HeaderValue::from_str(&format!("sha-256=:{}:", BASE64.encode(&raw))).ok()
}

#[cfg(test)]
mod tests {
    use super::read;

    #[test]
    fn ranges_are_read_as_rfc_9110_has_them() {
        // Section 14.1.2, for a file of 10000 bytes.
        for (header, wanted) in [
            ("bytes=0-499", Some(Some((0, 499)))),
            ("bytes=500-999", Some(Some((500, 999)))),
            ("bytes=-500", Some(Some((9500, 9999)))),
            ("bytes=9500-", Some(Some((9500, 9999)))),
            ("bytes=9999-99999999999999999999999", Some(Some((9999, 9999)))),
            ("bytes=-20000", Some(Some((0, 9999)))),
            ("bytes=10000-", Some(None)),
            ("bytes=-0", Some(None)),
            ("bytes=5-4", None),
            ("bytes=0-0,-1", None),
            ("lines=0-4", None),
            ("bytes=a-4", None),
            ("bytes", None),
        ] {
            assert_eq!(read(header, 10_000), wanted, "{header}");
        }
    }
}
