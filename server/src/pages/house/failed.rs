//! Problems as people see them.

use crate::http::problem::Problem;
use crate::pages::layout::open_page;
use crate::words::{self, Words};
use axum::http::{HeaderMap, header};
use maud::html;

/// The words of the page that a request is answered with when it fails; `None` when it was for no page, or whoever sent it reads none.
pub fn words(path: &str, headers: &HeaderMap) -> Option<&'static Words> {
    let accept = headers.get(header::ACCEPT).and_then(|value| value.to_str().ok()).unwrap_or_default();
    (!path.starts_with("/v1/") && accept.contains("text/html")).then(|| words::of(headers))
}

/// The page of a problem.
pub fn page(words: &Words, supplier: &str, problem: &Problem, request_id: &str) -> String {
    let says = &words.failed;
    let main = html! {
        h1 { (problem.title()) }
        p { (problem.detail()) }
        @let details = problem.details();
        @if !details.is_empty() {
            ul { @for detail in details { li { (detail) } } }
        }
        @if let Some((what, place)) = problem.first() { p { a.button href=(place) { (what) } } }
        p { a href="/" { (says.back()) } }
        p.small { (says.request(html! { span.mono { (request_id) } })) }
    };
    open_page(words, supplier, &problem.title(), &main).0
}
