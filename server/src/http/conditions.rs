//! Conditional requests (RFC 9110, section 13) and the keys of repeatable ones.

use crate::http::compression::plain_tag;
use crate::http::problem::Problem;
use crate::http::problem_kinds as kinds;
use crate::words::of_request;
use axum::http::{HeaderMap, HeaderName, HeaderValue, header};
use matchmark_service::{DraftCondition, IdempotentCall, Principal};

const IDEMPOTENCY_KEY: HeaderName = HeaderName::from_static("idempotency-key");

/// A strong entity tag around a hash.
pub fn etag(sha256: &str) -> HeaderValue {
    // A hash in hex is always a legal header value.
    HeaderValue::from_str(&format!("\"{sha256}\"")).unwrap_or(HeaderValue::from_static("\"\""))
}

/// What the caller asks to hold of the draft.
pub fn draft_condition(headers: &HeaderMap) -> Result<DraftCondition, Problem> {
    let if_match = tags(headers, &header::IF_MATCH)?;
    let if_none_match = tags(headers, &header::IF_NONE_MATCH)?;
    let if_absent = match if_none_match.as_deref() {
        None => false,
        Some([any]) if any == "*" => true,
        Some(_) => {
            return Err(Problem::new(&kinds::BAD_REQUEST, of_request().requests.if_none_match()));
        }
    };
    Ok(DraftCondition { if_match, if_absent })
}

/// The versions one of which must be there now, as the caller says; `None` when they say none.
pub fn if_match(headers: &HeaderMap) -> Result<Option<Vec<String>>, Problem> {
    tags(headers, &header::IF_MATCH)
}

/// Whether the caller has this version already and need not be sent it again. A weak tag is as good as a strong one here
/// (RFC 9110, section 13.1.2).
pub fn has_already(headers: &HeaderMap, sha256: &str) -> bool {
    let names = |tag: &String| {
        let strong = tag.strip_prefix("W/\"").and_then(|rest| rest.strip_suffix('"'));
        tag == "*" || plain_tag(strong.unwrap_or(tag)) == sha256
    };
    matches!(tags(headers, &header::IF_NONE_MATCH), Ok(Some(tags)) if tags.iter().any(names))
}

/// The identity of a creating call.
pub fn once(headers: &HeaderMap, who: &Principal, route: String, body: &[u8]) -> Result<IdempotentCall, Problem> {
    if headers.get_all(IDEMPOTENCY_KEY).iter().count() > 1 {
        return Err(Problem::new(&kinds::BAD_REQUEST, of_request().requests.one_key()));
    }
    let key = match headers.get(IDEMPOTENCY_KEY) {
        None => None,
        Some(value) => {
            let key = value.to_str().unwrap_or_default().trim_matches('"');
            if !(1..=128).contains(&key.len()) {
                return Err(Problem::new(&kinds::BAD_REQUEST, of_request().requests.key_length()));
            }
            Some(key.to_owned())
        }
    };
    Ok(IdempotentCall::new(&who.token, route, key, body))
}

/// The identity of a creating call that must not be done twice by a repeat: one without a key is refused.
pub fn keyed_once(headers: &HeaderMap, who: &Principal, route: String, body: &[u8]) -> Result<IdempotentCall, Problem> {
    if !headers.contains_key(IDEMPOTENCY_KEY) {
        return Err(Problem::new(&kinds::KEY_MISSING, of_request().requests.key_missing()));
    }
    once(headers, who, route, body)
}

/// The tags of a header without their quotes; a weak tag keeps its mark, so that it equals no strong one.
fn tags(headers: &HeaderMap, name: &HeaderName) -> Result<Option<Vec<String>>, Problem> {
    let mut found = None;
    for value in headers.get_all(name) {
        let tags: &mut Vec<String> = found.get_or_insert_default();
        let text = value.to_str().unwrap_or_default();
        for tag in text.split(',').map(str::trim) {
            let inner = tag.strip_prefix('"').and_then(|rest| rest.strip_suffix('"'));
            match inner {
                Some(inner) => tags.push(plain_tag(inner).to_owned()),
                None if tag == "*" || tag.starts_with("W/\"") => tags.push(tag.to_owned()),
                None => {
                    return Err(Problem::new(&kinds::BAD_REQUEST, of_request().requests.tags(name.as_str())));
                }
            }
        }
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn headers(name: HeaderName, value: &'static str) -> HeaderMap {
        HeaderMap::from_iter([(name, HeaderValue::from_static(value))])
    }

    #[test]
    fn reads_lists_of_tags() {
        let condition = draft_condition(&headers(header::IF_MATCH, "\"a\", \"b\"")).unwrap();
        assert_eq!(condition.if_match.unwrap(), ["a", "b"]);
    }

    #[test]
    fn a_weak_tag_equals_no_strong_one() {
        // RFC 9110, section 8.8.3.2: strong comparison.
        let condition = draft_condition(&headers(header::IF_MATCH, "W/\"a\"")).unwrap();
        assert_ne!(condition.if_match.unwrap(), ["a"]);
    }

    #[test]
    fn who_has_a_weak_form_of_it_has_it_already() {
        // RFC 9110, section 8.8.3.2, weak comparison: W/"1" and "1" match, W/"1" and W/"2" do not.
        for (sent, has) in
            [("W/\"1\"", true), ("\"1\"", true), ("W/\"2\"", false), ("\"2\", W/\"1\"", true), ("*", true)]
        {
            assert_eq!(has_already(&headers(header::IF_NONE_MATCH, sent), "1"), has, "{sent}");
        }
    }

    #[test]
    fn refuses_a_tag_without_quotes() {
        assert!(draft_condition(&headers(header::IF_MATCH, "abc")).is_err());
    }
}
