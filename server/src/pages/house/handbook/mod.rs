//! The handbook: Markdown and pictures kept beside the server, shown in the layout of the other pages. It needs no network.

mod markdown;

use crate::http::App;
use crate::http::problem::Problem;
use crate::http::problem_kinds::NOT_FOUND;
use crate::pages::house::style::kept;
use crate::pages::layout::{open_page, page as page_of};
use crate::pages::visitor::Visitor;
use crate::words::Words;
use axum::extract::{Path, State};
use axum::http::HeaderMap;
use axum::response::{IntoResponse, Response};
use maud::{Markup, PreEscaped, html};

/// A page: the last part of its address, and its text. The order is the one to read in.
const PAGES: &[(&str, &str)] = &[
    ("index", include_str!("../../../../handbook/index.md")),
    ("getting-started", include_str!("../../../../handbook/getting-started.md")),
    ("design-document", include_str!("../../../../handbook/design-document.md")),
    ("examples", include_str!("../../../../handbook/examples.md")),
    ("import", include_str!("../../../../handbook/import.md")),
    ("packs", include_str!("../../../../handbook/packs.md")),
    ("verifying", include_str!("../../../../handbook/verifying.md")),
    ("api", include_str!("../../../../handbook/api.md")),
    ("webhooks", include_str!("../../../../handbook/webhooks.md")),
    ("command-line", include_str!("../../../../handbook/command-line.md")),
    ("operation", include_str!("../../../../handbook/operation.md")),
    ("upgrading", include_str!("../../../../handbook/upgrading.md")),
];

macro_rules! pictures {
    ($($name:literal)*) => {
        &[$(($name, include_bytes!(concat!("../../../../handbook/pictures/", $name)))),*]
    };
}

const PICTURES: &[(&str, &[u8])] = pictures! {
    "bend_sheet.png" "checks.png" "cut_sheet.png" "fit_up.png" "kit_page.png" "notice.png" "pairs.png" "pictorial.png"
    "publish_page.png" "stock_plan.png" "stop_sheet.png" "views.png" "wrap.png"
};

/// Where the handbook says more about some kinds of problem than their own pages do.
const PROBLEMS: &[(&str, &[&str])] = &[
    ("api#sign-in-and-tokens", &["token-needed", "role-needed", "token-ended", "last-publisher"]),
    ("api#calls-that-count-once", &["idempotency-key-missing", "idempotency-key-reused", "not-shown-again"]),
    ("api#calls-that-must-not-overwrite", &["condition-needed", "condition-failed"]),
    ("webhooks#ask-for-what-is-new", &["events-forgotten"]),
    ("api#read-sheets-and-drawings", &["joint-refused"]),
    ("api#plan-the-saw", &["stock-refused"]),
    ("design-document#what-to-write", &["design-has-errors"]),
    ("design-document#from-draft-to-revision", &["warnings-not-acknowledged", "freeze-first", "second-person-needed"]),
    ("design-document#measured-values", &["not-measurable"]),
    ("packs#print-it-and-check-the-scale", &["no-pack-yet", "packs-used-up"]),
    ("packs#when-a-design-moves-on", &["kit-has-moved", "kit-on-hold", "stop-sheet-first"]),
    ("operation#limits", &["too-many-requests", "too-many-attempts", "too-slow", "busy", "out-of-time"]),
    ("operation#monitoring", &["store-away", "no-room", "disk-failed", "not-synced", "not-ready"]),
    ("operation#keys", &["key-not-in-force"]),
    ("upgrading#a-revision-stays-what-it-was", &["figures-differ"]),
];

/// Its first page.
pub async fn first(State(app): State<App>, words: &'static Words, visitor: Result<Visitor, Response>) -> Response {
    let (slug, text) = PAGES[0];
    shown(&app, words, visitor.ok(), slug, text)
}

/// One page.
pub async fn page(
    State(app): State<App>,
    words: &'static Words,
    visitor: Result<Visitor, Response>,
    Path(slug): Path<String>,
) -> Result<Response, Problem> {
    let found = PAGES.iter().find(|(page, _)| *page == slug);
    let (slug, text) = found.ok_or_else(|| Problem::of(&NOT_FOUND))?;
    Ok(shown(&app, words, visitor.ok(), slug, text))
}

/// One of its pictures.
pub async fn picture(headers: HeaderMap, Path(name): Path<String>) -> Result<Response, Problem> {
    let found = PICTURES.iter().find(|(picture, _)| *picture == name);
    let (_, bytes) = found.ok_or_else(|| Problem::of(&NOT_FOUND))?;
    Ok(kept(&headers, bytes, "image/png"))
}

/// A link to what the handbook says about a kind of problem.
pub fn about_problem(words: &Words, slug: &str) -> Option<Markup> {
    let (place, _) = PROBLEMS.iter().find(|(_, kinds)| kinds.contains(&slug))?;
    Some(html! { p { a href={"/handbook/" (place)} { (words.handbook.about_problem()) } } })
}

fn shown(app: &App, words: &Words, visitor: Option<Visitor>, slug: &str, text: &str) -> Response {
    let says = &words.handbook;
    let main = html! {
        article.handbook { (PreEscaped(markdown::html(text))) }
        nav.unprinted aria-label=(says.contents()) {
            h2 { (says.contents_heading()) }
            ul {
                @for (page, text) in PAGES {
                    li { a href=(address(page)) aria-current=[(*page == slug).then_some("page")] { (title(text)) } }
                }
            }
        }
    };
    match visitor {
        Some(visitor) => page_of(app, &visitor, "/handbook", &title(text), &main),
        None => open_page(words, app.supplier(), &title(text), &main).into_response(),
    }
}

fn address(page: &str) -> String {
    markdown::address(&format!("{page}.md"))
}

/// The first line of a page, which is its heading.
fn title(text: &str) -> &str {
    text.lines().next().unwrap_or_default().trim_start_matches("# ")
}
