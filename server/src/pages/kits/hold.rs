//! A hold on a kit: what its holder reads of it, and the forms that put and lift it.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::deed::Deed;
use crate::pages::form::filled::{Filled, area};
use crate::pages::form::sure::{self, Answer, Question};
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{day, minute};
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{HoldView, NewHold, Reason, ServiceError};
use maud::{Markup, html};

/// What the holder of a kit reads.
pub fn standing(serial: &str, hold: Option<&HoldView>) -> Markup {
    html! {
        @if let Some(hold) = hold {
            div.state.warn role="alert" {
                p { span.mark aria-hidden="true" { "\u{25c7}" } "On hold since " (day(&hold.at)) ": the supplier hands out no drawings for kit " (serial) " for the present." }
                p { "Ask: " (hold.ask) " Give them the serial " span.mono { (serial) } "." }
                p { "Warnings are not held back: stop sheets and notices stay open here, and are still sent to you." }
            }
        }
    }
}

/// What support has to know of it.
pub fn for_desk(hold: &HoldView) -> Markup {
    html! {
        div.state.warn {
            p { span.mark aria-hidden="true" { "\u{25c7}" } "On hold since " (minute(&hold.at)) ": hand out no drawings of it, by no way." }
            p.note { (hold.reason.as_deref().unwrap_or_default()) }
            p { "The holder is told to ask: " (hold.ask) }
        }
    }
}

/// The form that puts a hold, or lifts the one that stands, with those before.
pub async fn form(State(app): State<App>, visitor: Visitor, Path(serial): Path<String>) -> Result<Response, Problem> {
    show(&app, &visitor, &serial, &Filled::default()).await
}

/// Puts a hold.
pub async fn put(State(app): State<App>, Path(serial): Path<String>, deed: Deed) -> Result<Response, Problem> {
    let once = deed.once(&format!("kits/{serial}/holds"));
    let new = NewHold { reason: deed.form.text("reason"), ask: deed.form.text("ask") };
    deed.visitor.who.may_publish()?;
    match deed.answer() {
        Answer::Yes => {}
        Answer::No => return show(&app, &deed.visitor, &serial, &deed.form).await,
        Answer::None => {
            let kit = app.kit(&deed.visitor.who, &serial).await?;
            if let Err(error) = new.check() {
                return again(&app, deed, &serial, error).await;
            }
            let what = html! {
                p { "No pack of the kit is issued or downloaded any more, by anyone, and its builder's sign-in opens no sheets, until the hold is lifted. Stop sheets and notices still reach the holder." }
                p { "The holder reads: ask " (new.ask) }
            };
            let question = Question {
                here: "/kits",
                title: format!("Put kit {} on hold?", kit.serial),
                what,
                yes: "Yes, put it on hold".to_owned(),
                no: None,
            };
            return Ok(sure::ask(&app, &deed, &question));
        }
    }
    let done = app.hold(&deed.visitor.who, &serial, &new, &once).await;
    match done {
        Ok(_) => Ok(Redirect::to(&format!("/kits/{serial}")).into_response()),
        Err(error) => again(&app, deed, &serial, error).await,
    }
}

/// Lifts a hold.
pub async fn lift(
    State(app): State<App>,
    Path((serial, hold)): Path<(String, String)>,
    deed: Deed,
) -> Result<Response, Problem> {
    let once = deed.once(&format!("kits/{serial}/holds/{hold}/lifting"));
    let reason = Reason { reason: deed.form.text("reason") };
    deed.visitor.who.may_publish()?;
    match deed.answer() {
        Answer::Yes => {}
        Answer::No => return show(&app, &deed.visitor, &serial, &deed.form).await,
        Answer::None => {
            let kit = app.kit(&deed.visitor.who, &serial).await?;
            if let Err(error) = reason.check() {
                return again(&app, deed, &serial, error).await;
            }
            let question = Question {
                here: "/kits",
                title: format!("Lift the hold on kit {}?", kit.serial),
                what: html! { p { "Packs of the kit are issued and handed out again from then on, and its builder's sign-in opens its sheets." } },
                yes: "Yes, lift it".to_owned(),
                no: None,
            };
            return Ok(sure::ask(&app, &deed, &question));
        }
    }
    match app.lift_hold(&deed.visitor.who, &serial, &hold, &reason, &once).await {
        Ok(_) => Ok(Redirect::to(&format!("/kits/{serial}")).into_response()),
        Err(error) => again(&app, deed, &serial, error).await,
    }
}

async fn again(app: &App, deed: Deed, serial: &str, error: ServiceError) -> Result<Response, Problem> {
    let Deed { visitor, form, .. } = deed;
    let page = show(app, &visitor, serial, &form.refused(error)?).await?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

async fn show(app: &App, visitor: &Visitor, serial: &str, form: &Filled) -> Result<Response, Problem> {
    visitor.who.may_publish()?;
    let holds = app.holds(&visitor.who, serial).await?;
    let stands = holds.iter().find(|hold| hold.lifted_at.is_none());
    let place = format!("/kits/{serial}/holds");
    let main = html! {
        h1 { @if stands.is_some() { "Lift the hold on kit " } @else { "Put kit " } span.mono { (serial) } @if stands.is_none() { " on hold" } }
        (form.summary())
        @match stands {
            Some(hold) => {
                (for_desk(hold))
                form method="post" action={(place) "/" (hold.number) "/lifting"} {
                    (visitor.mark_once())
                    (area(form, "reason", "Why it is lifted", "For the supplier's own people.", 3))
                    button type="submit" { "Lift the hold" }
                }
            }
            None => {
                p { "In a dispute or after a theft. While it stands no pack of the kit is issued or downloaded, and its builder's sign-in opens no sheets. Stop sheets and notices still reach the holder." }
                form method="post" action=(place) {
                    (visitor.mark_once())
                    (area(form, "reason", "Why", "For the supplier's own people; the holder does not see it.", 3))
                    (area(form, "ask", "Whom the holder is to ask, and how", "They read it on the page of their kit.", 2))
                    button.danger type="submit" { "Put on hold" }
                }
            }
        }
        @let lifted: Vec<_> = holds.iter().filter(|hold| hold.lifted_at.is_some()).collect();
        @if !lifted.is_empty() {
            h2 { "Lifted" }
            ul { @for hold in lifted { li { (day(&hold.at)) " to " (hold.lifted_at.as_deref().map(day).unwrap_or_default()) ": "
                (hold.reason.as_deref().unwrap_or_default()) " Lifted: " (hold.lift_reason.as_deref().unwrap_or_default()) } } }
        }
        p { a href={"/kits/" (serial)} { "Back to the kit" } }
    };
    Ok(layout::page(app, visitor, "/kits", &format!("Hold on kit {serial}"), &main))
}
