//! Notices as a builder reads and answers them.

use crate::http::App;
use crate::http::files::drawn_pages;
use crate::http::problem::Problem;
use crate::pages::form::confirmation::{self, Answer, Question};
use crate::pages::form::submission::Submission;
use crate::pages::visitor::Visitor;
use crate::pages::words::{answered_on, class, day};
use crate::words::Words;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_core::pack::say;
use matchmark_core::sheets::{Changes, PartChange, Reason};
use matchmark_service::{KitNotice, NoticeState, Role};
use maud::{Markup, html};

/// A notice that is not done, with its work and pages or what is in their way, and its answers.
pub fn notice(visitor: &Visitor, notice: &KitNotice, in_the_way: Option<&str>) -> Markup {
    let place = format!("/kits/{}/notices/{}", notice.kit, notice.number);
    let own = matches!(visitor.who.role, Role::Builder { .. });
    let words = visitor.words;
    let says = &words.kit_notice;
    html! {
        section.notice aria-labelledby={"notice-" (notice.number)} {
            h3 id={"notice-" (notice.number)} { (says.heading(notice.number, class(words, notice.class))) }
            p.small { (says.step(day(&notice.at), &notice.from, &notice.to)) }
            p.note { (notice.text) }
            @if notice.stopped { p { strong { (says.stopped(&notice.to)) } } }
            @else if let Some(first) = in_the_way { p { strong { (first) } } }
            @else { (work(words, notice)) }
            @if in_the_way.is_none() && !notice.stopped && notice.work.is_some() { p { a.button.quiet href={(place) "/pages"} { (says.pages_link()) } } }
            @if !own { p.small { (says.answer_for_holder()) } }
            div.row {
                @if notice.state == NoticeState::Open {
                    form method="post" action={(place) "/seen"} { (visitor.mark()) button.quiet type="submit" { @if own { (says.seen_button()) } @else { (says.seen_button_desk()) } } }
                } @else {
                    p { (says.seen(answered_on(words, notice.acknowledged_at.as_deref(), notice.acknowledged_by.as_ref()))) }
                }
                @if !notice.stopped { form method="post" action={(place) "/done"} { (visitor.mark()) button type="submit" { @if own { (says.done_button()) } @else { (says.done_button_desk()) } } } }
            }
        }
    }
}

/// What is to be done, a sentence for each part.
fn work(words: &Words, notice: &KitNotice) -> Markup {
    let says = &words.kit_notice;
    let Some(Changes { parts, .. }) = &notice.work else { return html! { p { (says.work_unknown()) } } };
    let is_told = |part: &PartChange| matches!(part.reason, Some(Reason::Told { .. }));
    html! {
        ul {
            @for part in parts {
                @let said = say::part_change(part);
                @let said = if is_told(part) { html! { span lang="en" { (said) } } } else { html! { (said) } };
                li { (says.work_line(html! { strong { (part.member) } }, said)) }
            }
        }
        @for made in &notice.made_already { p { strong { (says.made_already(made.notice, day(&made.day), made.parts.join(", "))) } } }
        @if notice.as_designed { p { (says.as_designed()) } }
        @if parts.iter().any(is_told) { p.small { (says.work_in_english()) } }
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
    submission: Submission,
) -> Result<Response, Problem> {
    answer(&app, &submission, &serial, &number, false).await
}

/// Records that the work of a notice is done.
pub async fn done(
    State(app): State<App>,
    Path((serial, number)): Path<(String, String)>,
    submission: Submission,
) -> Result<Response, Problem> {
    if submission.answer() == Answer::Yes {
        return answer(&app, &submission, &serial, &number, true).await;
    }
    let who = &submission.visitor.who;
    let notices = app.kit_notices(who, &serial).await?;
    let found = notices.into_iter().find(|notice| notice.number.to_string() == number && notice.done_at.is_none());
    let Some(notice) = found else {
        // Done already, or not there: that is said as it is.
        return answer(&app, &submission, &serial, &number, true).await;
    };
    let own = matches!(who.role, Role::Builder { .. });
    let words = submission.visitor.words;
    let says = &words.kit_notice;
    let what = html! {
        p { (says.done_sure_about(&number)) }
        @if !own { p { (says.done_sure_desk(&serial)) } }
        p.note { (notice.text) }
        (work(words, &notice))
    };
    let question = Question {
        here: "",
        title: says.done_sure_heading(&number, &serial),
        what,
        yes: if own { says.done_sure_yes() } else { says.done_sure_yes_desk() }.to_owned(),
        no: Some(format!("/kits/{serial}")),
    };
    Ok(confirmation::ask(&app, &submission, &question))
}

async fn answer(
    app: &App,
    submission: &Submission,
    serial: &str,
    number: &str,
    done: bool,
) -> Result<Response, Problem> {
    app.answer_notice(&submission.visitor.who, serial, number, done).await?;
    Ok(Redirect::to(&format!("/kits/{serial}")).into_response())
}
