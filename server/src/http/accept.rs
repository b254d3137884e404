//! The media types that a caller takes (RFC 9110, section 12.5.1).

use crate::http::problem::Problem;
use crate::http::problem_kinds::NOT_ACCEPTABLE;
use axum::http::{HeaderMap, Method, header};

/// The media ranges of a request; none when any will do.
pub struct Accepted(Vec<String>);

impl Accepted {
    /// Those of a reading request. What changes things is done before its answer has a type, so that it is answered with what
    /// there is.
    pub fn of(method: &Method, headers: &HeaderMap) -> Self {
        if *method != Method::GET && *method != Method::HEAD {
            return Self(Vec::new());
        }
        let values = headers.get_all(header::ACCEPT).iter().filter_map(|value| value.to_str().ok());
        let ranges = values.flat_map(|value| value.split(',')).filter(|range| !is_left_out(range));
        let names = ranges.filter_map(|range| range.split(';').next());
        Self(names.map(|range| range.trim().to_ascii_lowercase()).collect())
    }

    /// Refuses what the caller does not take, before it counts as handed out.
    pub fn must_take(&self, kind: &str) -> Result<(), Problem> {
        if self.takes(kind) { Ok(()) } else { Err(Problem::of(&NOT_ACCEPTABLE)) }
    }

    /// Whether the type of an answer is among them; one without a type is.
    pub fn takes_answer(&self, headers: &HeaderMap) -> bool {
        let kind = headers.get(header::CONTENT_TYPE).and_then(|value| value.to_str().ok());
        kind.is_none_or(|kind| self.takes(kind))
    }

    fn takes(&self, kind: &str) -> bool {
        let kind = kind.split(';').next().unwrap_or_default().trim().to_ascii_lowercase();
        let main = kind.split('/').next().unwrap_or_default();
        let fits = |range: &String| {
            range == "*/*" || *range == kind || range.strip_suffix("/*").is_some_and(|wanted| wanted == main)
        };
        self.0.is_empty() || self.0.iter().any(fits)
    }
}

/// Whether a media range is named only to be left out.
fn is_left_out(range: &str) -> bool {
    weight(range) == 0.0
}

/// The weight of a media range, 0 to 1; one without is 1.
fn weight(range: &str) -> f64 {
    let given = range.split(';').filter_map(|parameter| parameter.trim().strip_prefix("q=")).next();
    given.and_then(|weight| weight.parse().ok()).unwrap_or(1.0)
}

/// Whether a caller asks by name for an answer of this kind rather than the usual one.
pub fn prefers(headers: &HeaderMap, kind: &str, usual: &str) -> bool {
    let values = headers.get_all(header::ACCEPT).iter().filter_map(|value| value.to_str().ok());
    let ranges: Vec<(String, f64)> = values
        .flat_map(|value| value.split(','))
        .map(|range| (range.split(';').next().unwrap_or_default().trim().to_ascii_lowercase(), weight(range)))
        .collect();
    // The most specific range that a kind lies in counts.
    let of = |kind: &str| {
        let main = kind.split('/').next().unwrap_or_default();
        let names = [kind.to_owned(), format!("{main}/*"), "*/*".to_owned()];
        let found = names.iter().find_map(|name| ranges.iter().find(|(range, _)| range == name));
        found.map_or(0.0, |(_, weight)| *weight)
    };
    let is_named = ranges.iter().any(|(range, weight)| range == kind && *weight > 0.0);
    let only = kind.split('/').next().is_some_and(|main| ranges.iter().any(|(range, _)| *range == format!("{main}/*")));
    (is_named && of(kind) >= of(usual)) || (only && of(kind) > of(usual))
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::http::HeaderValue;

    #[test]
    fn another_kind_is_given_to_who_likes_it_no_less_than_the_usual() {
        for (accept, is_it) in [
            ("text/csv", true),
            ("application/json;q=0.5, Text/CSV", true),
            ("text/csv, application/json", true),
            ("text/csv;q=0.1, application/json", false),
            ("text/*", true),
            ("text/*, application/json", false),
            ("*/*", false),
            ("text/csv;q=0, */*", false),
            ("text/csv, */*;q=0.1", true),
        ] {
            let asked = HeaderMap::from_iter([(header::ACCEPT, HeaderValue::from_static(accept))]);
            assert_eq!(prefers(&asked, "text/csv", "application/json"), is_it, "{accept}");
        }
        assert!(!prefers(&HeaderMap::new(), "text/csv", "application/json"));
    }

    #[test]
    fn media_ranges_are_read_as_rfc_9110_has_them() {
        for (accept, fits) in [
            ("text/html", true),
            ("Text/HTML;level=1", true),
            ("application/json, text/*;q=0.5", true),
            ("image/png, */*;q=0.1", true),
            ("application/json", false),
            ("image/*", false),
            ("application/json, text/html;q=0", false),
        ] {
            let asked = HeaderMap::from_iter([(header::ACCEPT, HeaderValue::from_static(accept))]);
            assert_eq!(Accepted::of(&Method::GET, &asked).takes("text/html; charset=utf-8"), fits, "{accept}");
        }
    }
}
