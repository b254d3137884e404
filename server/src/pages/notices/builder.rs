//! Notices as a builder reads and answers them.

use crate::http::App;
use crate::http::files::drawn_pages;
use crate::http::problem::Problem;
use crate::pages::form::deed::Deed;
use crate::pages::form::sure::{self, Answer, Question};
use crate::pages::visitor::Visitor;
use crate::pages::words::{answered, class, day};
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{KitNotice, NoticeState, Role};
use maud::{Markup, html};
use serde_json::Value;

/// A notice that is not done, with its pages when they are handed out, and its answers.
pub fn notice(visitor: &Visitor, notice: &KitNotice, is_open: bool) -> Markup {
    let place = format!("/kits/{}/notices/{}", notice.kit, notice.number);
    let own = matches!(visitor.who.role, Role::Builder { .. });
    html! {
        section.notice aria-labelledby={"notice-" (notice.number)} {
            h3 id={"notice-" (notice.number)} { "Notice " (notice.number) ": " (class(notice.class)) }
            p.small { (day(&notice.at)) ", from revision " (notice.from) " to " (notice.to) "." }
            p.note { (notice.text) }
            @if notice.stopped { p { strong { "Stop: revision " (notice.to) " was recalled since. Do none of this work until the supplier says how." } } } @else { (work(notice.work.as_ref())) }
            @if is_open && !notice.stopped && notice.work.is_some() { p { a.button.quiet href={(place) "/pages"} { "Download the rework pages (PDF)" } } }
            @if !own { p.small { "Answer it only when the holder of the kit has told you so: it is recorded as by you, on behalf of the holder." } }
            div.row {
                @if notice.state == NoticeState::Open {
                    form method="post" action={(place) "/seen"} { (visitor.mark()) button.quiet type="submit" { @if own { "Seen" } @else { "The holder has seen it" } } }
                } @else {
                    p { "Seen " (answered(notice.acknowledged_at.as_deref(), notice.acknowledged_by.as_ref())) "." }
                }
                @if !notice.stopped { form method="post" action={(place) "/done"} { (visitor.mark()) button type="submit" { @if own { "Done" } @else { "The holder has done it" } } } }
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
    if deed.answer() == Answer::Yes {
        return answer(&app, &deed, &serial, &number, true).await;
    }
    let who = &deed.visitor.who;
    let notices = app.kit_notices(who, &serial).await?;
    let found = notices.into_iter().find(|notice| notice.number.to_string() == number && notice.done_at.is_none());
    let Some(notice) = found else {
        // Done already, or not there: that is said as it is.
        return answer(&app, &deed, &serial, &number, true).await;
    };
    let own = matches!(who.role, Role::Builder { .. });
    let what = html! {
        p { "Packs printed from then on no longer carry notice " (number) ", and it is not asked again. It cannot be taken back." }
        @if !own { p { "It is recorded as by you, on behalf of the holder of kit " (serial) "." } }
        p.note { (notice.text) }
        (work(notice.work.as_ref()))
    };
    let question = Question {
        here: "",
        title: format!("Is all the work of notice {number} done on kit {serial}?"),
        what,
        yes: if own { "Yes, all of it is done".to_owned() } else { "Yes, the holder has done all of it".to_owned() },
        no: Some(format!("/kits/{serial}")),
    };
    Ok(sure::ask(&app, &deed, &question))
}

async fn answer(app: &App, deed: &Deed, serial: &str, number: &str, done: bool) -> Result<Response, Problem> {
    app.answer_notice(&deed.visitor.who, serial, number, done).await?;
    Ok(Redirect::to(&format!("/kits/{serial}")).into_response())
}
