//! The first page, and the pages that explain problems.

use crate::http::App;
use crate::http::problem::Problem;
use crate::http::problem_kinds::{Kind, NOT_FOUND};
use crate::pages::house::handbook::about_problem;
use crate::pages::layout::open_page;
use crate::pages::visitor::Visitor;
use crate::words::Words;
use axum::extract::{Path, State};
use axum::response::{Html, IntoResponse, Redirect, Response};
use matchmark_service::Role;
use maud::html;

/// Where whoever is signed in begins; for everyone else what this is and where to go.
pub async fn home(State(app): State<App>, words: &'static Words, visitor: Result<Visitor, Response>) -> Response {
    match visitor {
        Ok(Visitor { who, .. }) => Redirect::to(&begin(&who.role)).into_response(),
        Err(_) => first_page(words, app.supplier()).into_response(),
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

fn first_page(words: &Words, supplier: &str) -> Html<String> {
    let says = &words.home;
    let main = html! {
        h1 { (says.heading()) }
        p { (says.about(supplier)) }
        p { a.button href="/sign-in" { (says.sign_in()) } }
        h2 { (says.scan_heading()) }
        p { (says.scan_about()) }
        h2 { (says.programs_heading()) }
        ul {
            li { (says.handbook_page(html! { a href="/handbook" { (says.handbook_link()) } })) }
            li { (says.api_pages(html! { a href="/docs/" { (says.api_pages_link()) } })) }
            li { a href="/openapi.json" { (says.openapi_link()) } }
            li { a href="/v1/schemas/design" { (says.schema_link()) } }
            li { a href="/problems" { (says.problems_link()) } }
        }
    };
    open_page(words, supplier, &"Matchmark", &main)
}

/// All kinds of problem.
pub async fn problems(State(app): State<App>, words: &'static Words) -> Html<String> {
    let says = &words.home;
    let main = html! {
        h1 { (says.problems_heading()) }
        p { (says.problems_about(html! { code { "type" } })) }
        dl {
            @for kind in Kind::all() {
                dt { a href={"/problems/" (kind.slug())} { (kind.title(words)) } " (" (kind.status().as_u16()) ")" }
                dd { (kind.about(words)) }
            }
        }
    };
    open_page(words, app.supplier(), &says.problems_heading(), &main)
}

/// One kind of problem.
pub async fn problem(
    State(app): State<App>,
    words: &'static Words,
    Path(slug): Path<String>,
) -> Result<Html<String>, Problem> {
    let found = Kind::all().find(|kind| kind.slug() == slug);
    let kind = found.ok_or_else(|| Problem::of(&NOT_FOUND))?;
    let says = &words.home;
    let main = html! {
        h1 { (kind.title(words)) }
        p { (says.problem_status(kind.status().as_u16())) }
        p { (kind.about(words)) }
        @if let Some(more) = about_problem(words, kind.slug()) { (more) }
        p { a href="/problems" { (says.all_problems_link()) } }
    };
    Ok(open_page(words, app.supplier(), &kind.title(words), &main))
}
