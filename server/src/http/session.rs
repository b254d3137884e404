//! The cookie of a browser.

use axum::http::{HeaderMap, HeaderValue, header};
use matchmark_service::SESSION_LASTS;

/// The name of the cookie. Behind TLS it is one that no other host, and no page without TLS, can set.
fn name(secure: bool) -> &'static str {
    if secure { "__Host-matchmark" } else { "matchmark" }
}

/// What a browser shows as its session, good or not.
pub fn shown_session(headers: &HeaderMap) -> Option<&str> {
    cookie(headers, true).or_else(|| cookie(headers, false))
}

/// What the browser of whoever calls shows.
pub fn cookie(headers: &HeaderMap, secure: bool) -> Option<&str> {
    let values = headers.get_all(header::COOKIE).iter().filter_map(|value| value.to_str().ok());
    let mut pairs = values.flat_map(|value| value.split(';')).filter_map(|pair| pair.trim().split_once('='));
    pairs.find(|(key, _)| *key == name(secure)).map(|(_, secret)| secret)
}

/// The header that makes a browser show this from then on, or nothing any more.
pub fn set_cookie(secret: Option<&str>, secure: bool) -> HeaderValue {
    let lasts = if secret.is_some() { SESSION_LASTS.whole_seconds() } else { 0 };
    let tls = if secure { "; Secure" } else { "" };
    let text = format!(
        "{}={}; Path=/; Max-Age={lasts}; HttpOnly; SameSite=Lax{tls}",
        name(secure),
        secret.unwrap_or_default()
    );
    // A secret is letters, digits, hyphens and underscores.
    HeaderValue::from_str(&text).unwrap_or(HeaderValue::from_static(""))
}
