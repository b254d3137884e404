//! A hold on a kit: what its holder reads of it, and the forms that put and lift it.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::confirmation::{self, Answer, Question};
use crate::pages::form::fields::{FormFields, area};
use crate::pages::form::submission::Submission;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{day, minute};
use crate::words::Words;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{HoldView, NewHold, Reason, ServiceError};
use maud::{Markup, html};

/// What the holder of a kit reads.
pub fn standing(words: &Words, serial: &str, hold: Option<&HoldView>) -> Markup {
    let says = &words.hold;
    html! {
        @if let Some(hold) = hold {
            div.state.warn role="alert" {
                p { span.mark aria-hidden="true" { "\u{25c7}" } (says.standing(day(&hold.at), serial)) }
                p { (says.standing_ask(&hold.ask, html! { span.mono { (serial) } })) }
                p { (says.standing_warnings()) }
            }
        }
    }
}

/// What support has to know of it.
pub fn for_desk(words: &Words, hold: &HoldView) -> Markup {
    let says = &words.hold;
    html! {
        div.state.warn {
            p { span.mark aria-hidden="true" { "\u{25c7}" } (says.desk_standing(minute(words, &hold.at))) }
            p.note { (hold.reason.as_deref().unwrap_or_default()) }
            p { (says.desk_ask(&hold.ask)) }
        }
    }
}

/// The form that puts a hold, or lifts the one that stands, with those before.
pub async fn form(State(app): State<App>, visitor: Visitor, Path(serial): Path<String>) -> Result<Response, Problem> {
    show(&app, &visitor, &serial, &FormFields::empty(visitor.words)).await
}

/// Puts a hold.
pub async fn put(
    State(app): State<App>,
    Path(serial): Path<String>,
    submission: Submission,
) -> Result<Response, Problem> {
    let once = submission.once(&format!("kits/{serial}/holds"));
    let new = NewHold { reason: submission.form.text("reason"), ask: submission.form.text("ask") };
    submission.visitor.who.may_publish()?;
    match submission.answer() {
        Answer::Yes => {}
        Answer::No => return show(&app, &submission.visitor, &serial, &submission.form).await,
        Answer::None => {
            let kit = app.kit(&submission.visitor.who, &serial).await?;
            if let Err(error) = new.check() {
                return again(&app, submission, &serial, error).await;
            }
            let says = &submission.visitor.words.hold;
            let what = html! {
                p { (says.put_sure_about()) }
                p { (says.put_sure_ask(&new.ask)) }
            };
            let question = Question {
                here: "/kits",
                title: says.put_sure_heading(&kit.serial),
                what,
                yes: says.put_sure_yes().to_owned(),
                no: None,
            };
            return Ok(confirmation::ask(&app, &submission, &question));
        }
    }
    let done = app.hold(&submission.visitor.who, &serial, &new, &once).await;
    match done {
        Ok(_) => Ok(Redirect::to(&format!("/kits/{serial}")).into_response()),
        Err(error) => again(&app, submission, &serial, error).await,
    }
}

/// Lifts a hold.
pub async fn lift(
    State(app): State<App>,
    Path((serial, hold)): Path<(String, String)>,
    submission: Submission,
) -> Result<Response, Problem> {
    let once = submission.once(&format!("kits/{serial}/holds/{hold}/lifting"));
    let reason = Reason { reason: submission.form.text("reason") };
    submission.visitor.who.may_publish()?;
    match submission.answer() {
        Answer::Yes => {}
        Answer::No => return show(&app, &submission.visitor, &serial, &submission.form).await,
        Answer::None => {
            let kit = app.kit(&submission.visitor.who, &serial).await?;
            if let Err(error) = reason.check() {
                return again(&app, submission, &serial, error).await;
            }
            let says = &submission.visitor.words.hold;
            let question = Question {
                here: "/kits",
                title: says.lift_sure_heading(&kit.serial),
                what: html! { p { (says.lift_sure_about()) } },
                yes: says.lift_sure_yes().to_owned(),
                no: None,
            };
            return Ok(confirmation::ask(&app, &submission, &question));
        }
    }
    match app.lift_hold(&submission.visitor.who, &serial, &hold, &reason, &once).await {
        Ok(_) => Ok(Redirect::to(&format!("/kits/{serial}")).into_response()),
        Err(error) => again(&app, submission, &serial, error).await,
    }
}

async fn again(app: &App, submission: Submission, serial: &str, error: ServiceError) -> Result<Response, Problem> {
    let Submission { visitor, form, .. } = submission;
    let page = show(app, &visitor, serial, &form.refused(error)?).await?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

async fn show(app: &App, visitor: &Visitor, serial: &str, form: &FormFields) -> Result<Response, Problem> {
    visitor.who.may_publish()?;
    let holds = app.holds(&visitor.who, serial).await?;
    let stands = holds.iter().find(|hold| hold.lifted_at.is_none());
    let place = format!("/kits/{serial}/holds");
    let says = &visitor.words.hold;
    let marked = html! { span.mono { (serial) } };
    let main = html! {
        h1 { @if stands.is_some() { (says.lift_heading(marked)) } @else { (says.put_heading(marked)) } }
        (form.summary())
        @match stands {
            Some(hold) => {
                (for_desk(visitor.words, hold))
                form method="post" action={(place) "/" (hold.number) "/lifting"} {
                    (visitor.mark_once())
                    (area(form, "reason", says.lift_reason(), says.lift_reason_hint(), 3))
                    button type="submit" { (says.lift_button()) }
                }
            }
            None => {
                p { (says.put_about()) }
                form method="post" action=(place) {
                    (visitor.mark_once())
                    (area(form, "reason", says.put_reason(), says.put_reason_hint(), 3))
                    (area(form, "ask", says.put_ask(), says.put_ask_hint(), 2))
                    button.danger type="submit" { (says.put_button()) }
                }
            }
        }
        @let lifted: Vec<_> = holds.iter().filter(|hold| hold.lifted_at.is_some()).collect();
        @if !lifted.is_empty() {
            h2 { (says.lifted_heading()) }
            ul { @for hold in lifted { li {
                (says.lifted_line(
                    day(&hold.at),
                    hold.lifted_at.as_deref().map(day).unwrap_or_default(),
                    hold.reason.as_deref().unwrap_or_default(),
                    hold.lift_reason.as_deref().unwrap_or_default(),
                ))
            } } }
        }
        p { a href={"/kits/" (serial)} { (says.back()) } }
    };
    Ok(layout::page(app, visitor, "/kits", &says.title(serial), &main))
}
