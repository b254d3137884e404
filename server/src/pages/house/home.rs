//! The first page, and the pages that explain problems.

use crate::http::App;
use crate::http::problem::Problem;
use crate::http::problem_kinds::{Kind, NOT_FOUND};
use crate::pages::house::handbook::about_problem;
use crate::pages::layout::open_page;
use crate::pages::visitor::Visitor;
use axum::extract::{Path, State};
use axum::response::{Html, IntoResponse, Redirect, Response};
use matchmark_service::Role;
use maud::html;

/// Where whoever is signed in begins; for everyone else what this is and where to go.
pub async fn home(State(app): State<App>, visitor: Result<Visitor, Response>) -> Response {
    match visitor {
        Ok(Visitor { who, .. }) => Redirect::to(&begin(&who.role)).into_response(),
        Err(_) => first_page(app.supplier()).into_response(),
    }
}

/// Where a role begins.
pub fn begin(role: &Role) -> String {
    match role {
        Role::Builder { kit } => format!("/kits/{kit}"),
        Role::Publisher => "/kits".to_owned(),
        Role::Support => "/support".to_owned(),
    }
}

fn first_page(supplier: &str) -> Html<String> {
    let main = html! {
        h1 { "Kits, and the pack that belongs to each" }
        p { (supplier) " sells welded tube frames as kits. Every kit has one revision of its design, and its builder gets the pack of exactly that "
            "revision: cut sheet, bend sheets, fit-up order and 1:1 wraps." }
        p { a.button href="/sign-in" { "Sign in" } }
        h2 { "Is the page in your hand still right?" }
        p { "Scan the code at its foot. The page that opens says so in words, without sign-in." }
        h2 { "For other programs" }
        ul {
            li { a href="/handbook" { "Handbook" } ", from an empty service to printed packs" }
            li { a href="/docs/" { "Pages about the API" } ", which work without any network" }
            li { a href="/openapi.json" { "OpenAPI 3.1 description" } }
            li { a href="/v1/schemas/design" { "JSON Schema of the design document" } }
            li { a href="/problems" { "What error answers mean" } }
        }
    };
    open_page(supplier, "Matchmark", &main)
}

/// All kinds of problem.
pub async fn problems(State(app): State<App>) -> Html<String> {
    let main = html! {
        h1 { "Problems" }
        p { "Every error answer names one of these as its " code { "type" } "." }
        dl {
            @for kind in Kind::all() {
                dt { a href={"/problems/" (kind.slug())} { (kind.title()) } " (" (kind.status().as_u16()) ")" }
                dd { (kind.about()) }
            }
        }
    };
    open_page(app.supplier(), "Problems", &main)
}

/// One kind of problem.
pub async fn problem(State(app): State<App>, Path(slug): Path<String>) -> Result<Html<String>, Problem> {
    let found = Kind::all().find(|kind| kind.slug() == slug);
    let kind = found.ok_or_else(|| Problem::new(&NOT_FOUND, NOT_FOUND.about))?;
    let main = html! {
        h1 { (kind.title()) }
        p { "Status " (kind.status().as_u16()) "." }
        p { (kind.about()) }
        @if let Some(more) = about_problem(kind.slug()) { (more) }
        p { a href="/problems" { "All problems" } }
    };
    Ok(open_page(app.supplier(), kind.title(), &main))
}
