//! Notices as a builder reads and answers them.

use super::deed::Deed;
use super::visitor::Visitor;
use super::words::{class, day};
use crate::api::App;
use crate::api::notices::drawn_pages;
use crate::api::problem::Problem;
use crate::service::{KitNotice, NoticeState};
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde_json::Value;

/// A notice that is not done, with its pages when they are handed out, and its answers.
pub fn notice(visitor: &Visitor, notice: &KitNotice, is_open: bool) -> Markup {
    let place = format!("/kits/{}/notices/{}", notice.kit, notice.number);
    html! {
        section.notice aria-labelledby={"notice-" (notice.number)} {
            h3 id={"notice-" (notice.number)} { "Notice " (notice.number) ": " (class(notice.class)) }
            p.small { (day(&notice.at)) ", from revision " (notice.from) " to " (notice.to) "." }
            p.note { (notice.text) }
            (work(notice.work.as_ref()))
            @if is_open && notice.work.is_some() { p { a.button.quiet href={(place) "/pages"} { "Download the rework pages (PDF)" } } }
            div.row {
                @if notice.state == NoticeState::Open {
                    form method="post" action={(place) "/seen"} { (visitor.mark()) button.quiet type="submit" { "Seen" } }
                } @else {
                    p { "Seen " @if let Some(at) = &notice.acknowledged_at { (day(at)) } "." }
                }
                form method="post" action={(place) "/done"} { (visitor.mark()) button type="submit" { "Done" } }
            }
        }
    }
}

/// What is to be done, a sentence for each part.
fn work(work: Option<&Value>) -> Markup {
    let parts = work.and_then(|work| work["parts"].as_array());
    html! {
        @match parts {
            None => p { "What it means for your parts could not be computed; ask the supplier." },
            Some(parts) => ul {
                @for part in parts {
                    li { strong { (part["member"].as_str().unwrap_or_default()) } ": " (part["words"].as_str().unwrap_or_default()) }
                }
            }
        }
    }
}

/// Hands out the rework pages of a notice.
pub async fn pages(
    State(app): State<App>,
    visitor: Visitor,
    Path((serial, number)): Path<(String, String)>,
) -> Result<Response, Problem> {
    drawn_pages(&app, &visitor.who, &serial, &number).await
}

/// Records that a notice was read.
pub async fn seen(
    State(app): State<App>,
    Path((serial, number)): Path<(String, String)>,
    deed: Deed,
) -> Result<Response, Problem> {
    answer(&app, &deed, &serial, &number, false).await
}

/// Records that the work of a notice is done.
pub async fn done(
    State(app): State<App>,
    Path((serial, number)): Path<(String, String)>,
    deed: Deed,
) -> Result<Response, Problem> {
    answer(&app, &deed, &serial, &number, true).await
}

async fn answer(app: &App, deed: &Deed, serial: &str, number: &str, done: bool) -> Result<Response, Problem> {
    app.answer_notice(&deed.visitor.who, serial, number, done).await?;
    Ok(Redirect::to(&format!("/kits/{serial}")).into_response())
}
