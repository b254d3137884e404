//! What all pages have in common: head, strip with the ways to go, landmarks.

use crate::http::App;
use crate::pages::visitor::Visitor;
use axum::http::{HeaderValue, header};
use axum::response::{Html, IntoResponse, Response};
use matchmark_service::Role;
use maud::{DOCTYPE, Markup, html};

/// A page for whoever is signed in; it stays with them.
pub fn page(app: &App, visitor: &Visitor, here: &str, title: &str, main: &Markup) -> Response {
    let kept = [(header::CACHE_CONTROL, HeaderValue::from_static("no-store"))];
    let whole = whole(app.supplier(), Some(visitor), here, title, main);
    (kept, Html(whole.into_string())).into_response()
}

/// A page for everyone.
pub fn open_page(supplier: &str, title: &str, main: &Markup) -> Html<String> {
    Html(whole(supplier, None, "", title, main).into_string())
}

fn whole(supplier: &str, visitor: Option<&Visitor>, here: &str, title: &str, main: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) " - " (supplier) }
                link rel="stylesheet" href="/style.css";
                link rel="icon" href="/icon.svg" type="image/svg+xml";
            }
            body {
                a.skip href="#main" { "Skip to the content" }
                header {
                    div {
                        a.name href="/" { (supplier) }
                        @match visitor {
                            Some(visitor) => {
                                nav aria-label="Main" {
                                    ul {
                                        @for (address, name) in ways(visitor) {
                                            li { a href=(address) aria-current=[(here == address).then_some("page")] { (name) } }
                                        }
                                    }
                                }
                                form method="post" action="/sign-out" {
                                    (visitor.mark())
                                    button type="submit" { "Sign out" }
                                }
                            }
                            None => nav aria-label="Main" { ul { li { a href="/sign-in" { "Sign in" } } } }
                        }
                    }
                }
                main id="main" { (main) }
                footer {
                    p { a href="/handbook" { "Handbook" } }
                    @if visitor.is_some_and(|visitor| visitor.who.may_support().is_ok()) {
                        p { a href="/contact" { "Whom holders are told to ask" } }
                    }
                    p {
                        "A pack is no approval. Check the scale bars of every printed page, cut only from the pack of your kit, wear eye protection, "
                        "and have roll structures approved by a competent person under the rules of your governing body and local codes."
                    }
                }
            }
        }
    }
}

/// Where each may go.
fn ways(visitor: &Visitor) -> Vec<(String, &'static str)> {
    match &visitor.who.role {
        Role::Builder { kit } => vec![(format!("/kits/{kit}"), "My kit")],
        Role::Publisher | Role::Support => [
            ("/support", "Look up"),
            ("/kits", "Kits"),
            ("/designs", "Designs"),
            ("/notices", "Notices"),
            ("/jobs", "Jobs"),
        ]
        .map(|(address, name)| (address.to_owned(), name))
        .to_vec(),
    }
}
