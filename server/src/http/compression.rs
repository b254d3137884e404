//! Answers of text in fewer bytes, for callers who take them so (RFC 9110, section 12.5.3).

use axum::body::HttpBody;
use axum::extract::Request;
use axum::http::{HeaderValue, StatusCode, header};
use axum::middleware::Next;
use axum::response::Response;
use tower_http::CompressionLevel;
use tower_http::compression::CompressionLayer;
use tower_http::compression::predicate::{And, Predicate, SizeAbove};

/// Smaller answers gain nothing, bytes.
const LEAST: u64 = 1_000;

/// Of the quality of every encoding: the first steps take most of the bytes away, the last ones most of the time.
const QUALITY: i32 = 4;

/// Media types that are text. Packs, pictures and archives are compressed already, and events are sent as they come.
const TEXT: [&str; 10] = [
    "application/json",
    "application/problem+json",
    "image/svg+xml",
    "text/html",
    "text/css",
    "text/csv",
    "text/javascript",
    "text/plain",
    "image/vnd.dxf",
    "model/step",
];

/// What ends the tag of an answer in another encoding: its bytes are others, and so is its strong tag (RFC 9110, section 8.8.3.3).
const ENCODINGS: [(&str, &str); 3] = [("br", ".br"), ("gzip", ".gzip"), ("zstd", ".zstd")];

/// Compresses answers that are text and show no secret.
pub fn layer() -> CompressionLayer<And<SizeAbove, IsText>> {
    CompressionLayer::new().quality(CompressionLevel::Precise(QUALITY)).compress_when(SizeAbove::new(LEAST).and(IsText))
}

/// Whether an answer is text that may be compressed. One that nobody may keep can show a secret beside words of the caller, and the
/// length of both compressed together would tell of it.
#[derive(Debug, Clone, Copy)]
pub struct IsText;

impl Predicate for IsText {
    fn should_compress<B: HttpBody>(&self, response: &axum::http::Response<B>) -> bool {
        let of = |name| response.headers().get(name).and_then(|value: &HeaderValue| value.to_str().ok()).unwrap_or("");
        let kind = of(header::CONTENT_TYPE).split(';').next().unwrap_or_default().trim();
        TEXT.contains(&kind) && !of(header::CACHE_CONTROL).contains("no-store")
    }
}

/// Gives a compressed answer a tag of its own, and one that the caller has already the tag that they have it under.
pub async fn tag_encoded(request: Request, next: Next) -> Response {
    let known: Vec<HeaderValue> = request.headers().get_all(header::IF_NONE_MATCH).iter().cloned().collect();
    let mut response = next.run(request).await;
    let Some(tag) = response.headers().get(header::ETAG).and_then(|tag| tag.to_str().ok()).map(str::to_owned) else {
        return response;
    };
    let Some(inner) = tag.strip_prefix('"').and_then(|tag| tag.strip_suffix('"')) else { return response };
    let encoding = response.headers().get(header::CONTENT_ENCODING).and_then(|value| value.to_str().ok());
    let end = if response.status() == StatusCode::NOT_MODIFIED {
        let has = |end: &str| {
            let wanted = format!("\"{inner}{end}\"");
            known.iter().filter_map(|value| value.to_str().ok()).any(|value| value.contains(&wanted))
        };
        ENCODINGS.iter().find(|(_, end)| has(end))
    } else {
        ENCODINGS.iter().find(|(name, _)| Some(*name) == encoding)
    };
    if let Some((_, end)) = end
        && let Ok(value) = HeaderValue::from_str(&format!("\"{inner}{end}\""))
    {
        response.headers_mut().insert(header::ETAG, value);
    }
    response
}

/// A tag without what its encoding added.
pub fn plain_tag(tag: &str) -> &str {
    ENCODINGS.iter().find_map(|(_, end)| tag.strip_suffix(end)).unwrap_or(tag)
}
