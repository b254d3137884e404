//! Problems as people see them.

use crate::http::problem::Problem;
use crate::pages::layout::open_page;
use axum::http::{HeaderMap, header};
use maud::html;

/// Whether a request that failed is answered with a page: it was for one, and whoever sent it reads pages.
pub fn wanted(path: &str, headers: &HeaderMap) -> bool {
    let accept = headers.get(header::ACCEPT).and_then(|value| value.to_str().ok()).unwrap_or_default();
    !path.starts_with("/v1/") && accept.contains("text/html")
}

/// The page of a problem.
pub fn page(supplier: &str, problem: &Problem, request_id: &str) -> String {
    let main = html! {
        h1 { (problem.title()) }
        p { (problem.detail()) }
        @let details = problem.details();
        @if !details.is_empty() {
            ul { @for detail in details { li { (detail) } } }
        }
        @if let Some((what, place)) = problem.first() { p { a.button href=(place) { (what) } } }
        p { a href="/" { "Back to the first page" } }
        p.small { "Request " span.mono { (request_id) } }
    };
    open_page(supplier, problem.title(), &main).0
}
