//! Problems as people see them.

use crate::http::problem::Problem;
use crate::http::response::Session;
use crate::pages::layout::page_for;
use crate::pages::visitor::Visitor;
use crate::words::{self, Words};
use axum::http::{HeaderMap, header};
use matchmark_service::Role;
use maud::html;

/// The words of the page that a request is answered with when it fails; `None` when it was for no page, or whoever sent it reads none.
pub fn words(path: &str, headers: &HeaderMap) -> Option<&'static Words> {
    let accept = headers.get(header::ACCEPT).and_then(|value| value.to_str().ok()).unwrap_or_default();
    (!path.starts_with("/v1/") && accept.contains("text/html")).then(|| words::of(headers))
}

/// The page of a problem, with a way back for whoever is signed in.
pub fn page(
    words: &'static Words,
    supplier: &str,
    session: Option<Session>,
    problem: &Problem,
    request_id: &str,
) -> String {
    let says = &words.failed;
    let visitor = session.map(|(who, secret)| Visitor { who, secret, words });
    let (back, place) = match visitor.as_ref().map(|visitor| &visitor.who.role) {
        Some(Role::Builder { kit }) => (says.back_to_kit(), format!("/kits/{kit}")),
        _ => (says.back(), "/".to_owned()),
    };
    let main = html! {
        h1 { (problem.title(words)) }
        p { (problem.detail()) }
        @let details = problem.details();
        @if !details.is_empty() {
            ul { @for detail in details { li { (detail) } } }
        }
        @if let Some((what, place)) = problem.first() { p { a.button href=(place) { (what) } } }
        p { a href=(place) { (back) } }
        p.small { (says.request(html! { span.mono { (request_id) } })) }
    };
    page_for(words, supplier, visitor.as_ref(), &problem.title(words), &main).0
}
