//! The first page and the pages that explain problems: plain HTML, no script.

use super::App;
use super::problem::Problem;
use super::problem_kinds::{ALL, Kind, NOT_FOUND};
use axum::extract::{Path, State};
use axum::response::Html;
use std::fmt::Write as _;

const STYLE: &str = "body{font:1rem/1.6 sans-serif;max-width:42rem;margin:2rem auto;padding:0 1rem;color:#111;background:#fff}h1{font-size:1.6rem;line-height:1.2}a{color:#111}code{font-size:.95em}dt{margin-top:1rem;font-weight:bold}dd{margin:0}";

/// What this is and where to go.
pub async fn home(State(app): State<App>) -> Html<String> {
    let supplier = escaped(app.supplier());
    page(
        "Matchmark",
        &format!(
            "<p>{supplier}: designs of welded tube frames, and for every kit the pack that belongs to its revision: cut sheet, bend sheets, fit-up order and 1:1 wraps.</p>\
             <p>This is the service behind it. It is used through its API:</p>\
             <ul><li><a href=\"/docs/\">API documentation</a>, served from here without any network</li>\
             <li><a href=\"/openapi.json\">OpenAPI 3.1 description</a></li>\
             <li><a href=\"/v1/schemas/design\">JSON Schema of the design document</a></li>\
             <li><a href=\"/problems\">What error answers mean</a></li></ul>\
             <p>Cutting, grinding and welding can hurt you and others. Check the scale bars of every printed page, cut only from the pack issued for your kit, and have roll structures approved by a competent person under the rules of your governing body.</p>"
        ),
    )
}

/// All kinds of problem.
pub async fn problems() -> Html<String> {
    let mut list = String::from("<p>Every error answer names one of these as its <code>type</code>.</p><dl>");
    for kind in ALL {
        // Writing to a String cannot fail.
        let _ = write!(
            list,
            "<dt><a href=\"/problems/{}\">{}</a> ({})</dt><dd>{}</dd>",
            kind.slug,
            kind.title,
            kind.status.as_u16(),
            kind.about
        );
    }
    list.push_str("</dl>");
    page("Problems", &list)
}

/// One kind of problem.
pub async fn problem(Path(slug): Path<String>) -> Result<Html<String>, Problem> {
    let found: Option<&Kind> = ALL.iter().find(|kind| kind.slug == slug);
    let kind = found.ok_or_else(|| Problem::new(&NOT_FOUND, NOT_FOUND.about))?;
    Ok(page(
        kind.title,
        &format!(
            "<p>Status {}.</p><p>{}</p><p><a href=\"/problems\">All problems</a></p>",
            kind.status.as_u16(),
            kind.about
        ),
    ))
}

fn page(title: &str, body: &str) -> Html<String> {
    Html(format!(
        "<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"><title>{title}</title><style>{STYLE}</style></head><body><main><h1>{title}</h1>{body}</main></body></html>"
    ))
}

pub(super) fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}
