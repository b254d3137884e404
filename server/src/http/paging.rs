//! Lists in pages: opaque cursors that hold for the filters they were made with.

use crate::http::problem::Problem;
use crate::http::problem_kinds as kinds;
use crate::words::of_request;
use axum::http::{HeaderMap, HeaderValue, header};
use data_encoding::BASE64URL_NOPAD;
use matchmark_service::Page;
use matchmark_store::hash::sha256_hex;

const DEFAULT: usize = 50;
const MOST: usize = 200;

/// The page that is asked for. `filters` is whatever else the list depends on.
pub fn page(page_size: Option<usize>, cursor: Option<&str>, filters: &str) -> Result<Page, Problem> {
    let limit = match page_size {
        None => DEFAULT,
        Some(0) => {
            return Err(Problem::new(&kinds::BAD_REQUEST, of_request().requests.page_size()));
        }
        Some(size) => size.min(MOST),
    };
    let after = match cursor {
        None => String::new(),
        Some(cursor) => {
            read(cursor, filters).ok_or_else(|| Problem::new(&kinds::BAD_REQUEST, of_request().requests.cursor()))?
        }
    };
    Ok(Page { after, limit })
}

/// The cursor that goes on after this key.
pub fn cursor(after: &str, filters: &str) -> String {
    BASE64URL_NOPAD.encode(format!("{}{after}", mark(filters)).as_bytes())
}

/// A `Link` header to the next page (RFC 8288).
pub fn link(path: &str, filters: &str, next: Option<&String>) -> HeaderMap {
    let mut headers = HeaderMap::new();
    let Some(next) = next else { return headers };
    let and = if filters.is_empty() { "" } else { "&" };
    let value = format!("<{path}?{filters}{and}cursor={next}>; rel=\"next\"");
    if let Ok(value) = HeaderValue::from_str(&value) {
        headers.insert(header::LINK, value);
    }
    headers
}

fn read(cursor: &str, filters: &str) -> Option<String> {
    let bytes = BASE64URL_NOPAD.decode(cursor.as_bytes()).ok()?;
    let text = String::from_utf8(bytes).ok()?;
    text.strip_prefix(&mark(filters)).map(str::to_owned)
}

fn mark(filters: &str) -> String {
    sha256_hex(filters).chars().take(8).collect()
}
