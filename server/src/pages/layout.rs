//! What all pages have in common: head, strip with the ways to go, landmarks.

use crate::http::App;
use crate::pages::visitor::Visitor;
use crate::words::Words;
use axum::http::{HeaderValue, header};
use axum::response::{Html, IntoResponse, Response};
use matchmark_service::Role;
use maud::{DOCTYPE, Markup, Render, html};

/// A page for whoever is signed in; it stays with them.
pub fn page(app: &App, visitor: &Visitor, here: &str, title: &dyn Render, main: &Markup) -> Response {
    let kept = [(header::CACHE_CONTROL, HeaderValue::from_static("no-store"))];
    let whole = whole(visitor.words, app.supplier(), Some(visitor), here, title, main);
    (kept, Html(whole.into_string())).into_response()
}

/// A page for everyone.
pub fn open_page(words: &Words, supplier: &str, title: &dyn Render, main: &Markup) -> Html<String> {
    Html(whole(words, supplier, None, "", title, main).into_string())
}

fn whole(
    words: &Words,
    supplier: &str,
    visitor: Option<&Visitor>,
    here: &str,
    title: &dyn Render,
    main: &Markup,
) -> Markup {
    let says = &words.layout;
    html! {
        (DOCTYPE)
        html lang=(words.language) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (says.document_title(title, supplier)) }
                link rel="stylesheet" href="/style.css";
                link rel="icon" href="/icon.svg" type="image/svg+xml";
            }
            body {
                a.skip href="#main" { (says.skip_link()) }
                header {
                    div {
                        a.name href="/" { (supplier) }
                        @match visitor {
                            Some(visitor) => {
                                nav aria-label=(says.navigation()) {
                                    ul {
                                        @for (address, name) in navigation(visitor) {
                                            li { a href=(address) aria-current=[(here == address).then_some("page")] { (name) } }
                                        }
                                    }
                                }
                                form method="post" action="/sign-out" {
                                    (visitor.mark())
                                    button type="submit" { (says.sign_out()) }
                                }
                            }
                            None => nav aria-label=(says.navigation()) { ul { li { a href="/sign-in" { (says.sign_in()) } } } }
                        }
                    }
                }
                main id="main" { (main) }
                footer {
                    p { a href="/handbook" { (words.handbook.contents()) } }
                    @if visitor.is_some_and(|visitor| visitor.who.may_support().is_ok()) {
                        p { a href="/contact" { (says.contact_link()) } }
                    }
                    p { (says.cautions()) }
                }
            }
        }
    }
}

/// Where each may go.
fn navigation(visitor: &Visitor) -> Vec<(String, &'static str)> {
    let says = &visitor.words.layout;
    match &visitor.who.role {
        Role::Builder { kit } => vec![(format!("/kits/{kit}"), says.navigation_kit())],
        Role::Publisher | Role::Support => [
            ("/support", says.navigation_look_up()),
            ("/kits", says.navigation_kits()),
            ("/designs", says.navigation_designs()),
            ("/notices", says.navigation_notices()),
            ("/jobs", says.navigation_jobs()),
        ]
        .map(|(address, name)| (address.to_owned(), name))
        .to_vec(),
    }
}
