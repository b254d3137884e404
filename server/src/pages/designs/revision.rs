//! A published revision: what it is, and what may still be done about it.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::deed::Deed;
use crate::pages::form::filled::{Filled, area};
use crate::pages::form::sure::{self, Answer, Question};
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{class, count, day, minute, state};
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{Reason, Recall, RecallLedger, RevisionState, RevisionView, Role, ServiceError};
use maud::{Markup, html};
use std::ops::ControlFlow;

/// The page.
pub async fn read(
    State(app): State<App>,
    visitor: Visitor,
    Path((design, letter)): Path<(String, String)>,
) -> Result<Response, Problem> {
    show(&app, &visitor, &design, &letter, &Filled::default()).await
}

/// Withdraws it.
pub async fn withdraw(
    State(app): State<App>,
    Path((design, letter)): Path<(String, String)>,
    deed: Deed,
) -> Result<Response, Problem> {
    let reason = Reason { reason: deed.form.text("reason") };
    let about = html! {
        p { "No new kits are sold with it, and none is moved to it. Kits that have it go on, and their pages scan as withdrawn." }
    };
    let asked = Asked { checked: reason.check(), deed: "Withdraw", about };
    let deed = match sure_of(&app, deed, &design, &letter, asked).await? {
        ControlFlow::Continue(deed) => deed,
        ControlFlow::Break(page) => return Ok(page),
    };
    let once = deed.once(&format!("designs/{design}/revisions/{letter}/withdrawal"));
    let done = app.withdraw(&deed.visitor.who, &design, &letter, &reason, &once).await;
    after(&app, deed, &design, &letter, done).await
}

/// Recalls it.
pub async fn recall(
    State(app): State<App>,
    Path((design, letter)): Path<(String, String)>,
    deed: Deed,
) -> Result<Response, Problem> {
    let form = &deed.form;
    let recall =
        Recall { hazard: form.text("hazard"), what_to_do: form.text("what_to_do"), remedies: form.text("remedies") };
    let about = html! {
        p { "The holders of all these kits are told to stop, at once and over every channel. No pack of it is handed out before its stop sheet is acknowledged, and none is issued. What was told stays told, even when the revision is put in force again." }
        p { strong { "What can happen" } } p.note { (recall.hazard) }
        p { strong { "What to do" } } p.note { (recall.what_to_do) }
        p { strong { "What you offer" } } p.note { (recall.remedies) }
    };
    let asked = Asked { checked: recall.check(), deed: "Recall", about };
    let deed = match sure_of(&app, deed, &design, &letter, asked).await? {
        ControlFlow::Continue(deed) => deed,
        ControlFlow::Break(page) => return Ok(page),
    };
    let once = deed.once(&format!("designs/{design}/revisions/{letter}/recall"));
    let done = app.recall(&deed.visitor.who, &design, &letter, &recall, &once).await;
    after(&app, deed, &design, &letter, done).await
}

/// Puts it in force again.
pub async fn reinstate(
    State(app): State<App>,
    Path((design, letter)): Path<(String, String)>,
    deed: Deed,
) -> Result<Response, Problem> {
    let reason = Reason { reason: deed.form.text("reason") };
    let about = html! {
        p { "The withdrawal or recall ends: no stop sheet of it comes first any more, and packs of it are issued and handed out again." }
    };
    let asked = Asked { checked: reason.check(), deed: "Reinstate", about };
    let deed = match sure_of(&app, deed, &design, &letter, asked).await? {
        ControlFlow::Continue(deed) => deed,
        ControlFlow::Break(page) => return Ok(page),
    };
    let once = deed.once(&format!("designs/{design}/revisions/{letter}/reinstatement"));
    let done = app.reinstate(&deed.visitor.who, &design, &letter, &reason, &once).await;
    after(&app, deed, &design, &letter, done).await
}

/// What is asked before a step.
struct Asked {
    /// Whether what was filled in will do.
    checked: Result<(), ServiceError>,
    /// The step as its button names it.
    deed: &'static str,
    /// What it means.
    about: Markup,
}

/// Asks once more whether a step is meant, when what was filled in will do; goes on with one that is.
async fn sure_of(
    app: &App,
    deed: Deed,
    design: &str,
    letter: &str,
    asked: Asked,
) -> Result<ControlFlow<Response, Deed>, Problem> {
    deed.visitor.who.may_publish()?;
    let answer = deed.answer();
    if answer == Answer::Yes {
        return Ok(ControlFlow::Continue(deed));
    }
    let kits = app.holders(&deed.visitor.who, design, letter).await?;
    if answer == Answer::No {
        return Ok(ControlFlow::Break(show(app, &deed.visitor, design, letter, &deed.form).await?));
    }
    if let Err(error) = asked.checked {
        return Ok(ControlFlow::Break(after(app, deed, design, letter, Err(error)).await?));
    }
    let what = html! {
        p { (count(kits, "kit has it, or has a pack of it", "kits have it, or have packs of it")) "." }
        (asked.about)
    };
    let question = Question {
        here: "/designs",
        title: format!("{} revision {letter} of {design}?", asked.deed),
        what,
        yes: format!("Yes, {} revision {letter}", asked.deed.to_lowercase()),
        no: None,
    };
    Ok(ControlFlow::Break(sure::ask(app, &deed, &question)))
}

/// Back to the page when it is done, else the page again with what is wrong.
async fn after(
    app: &App,
    deed: Deed,
    design: &str,
    letter: &str,
    done: Result<RevisionView, ServiceError>,
) -> Result<Response, Problem> {
    let Deed { visitor, form, .. } = deed;
    match done {
        Ok(_) => Ok(Redirect::to(&format!("/designs/{design}/revisions/{letter}")).into_response()),
        Err(error) => {
            let again = show(app, &visitor, design, letter, &form.refused(error)?).await?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, again).into_response())
        }
    }
}

async fn show(app: &App, visitor: &Visitor, design: &str, letter: &str, form: &Filled) -> Result<Response, Problem> {
    visitor.who.may_support()?;
    let revision = app.revision(&visitor.who, design, letter).await?;
    let ledger = match revision.state {
        RevisionState::Recalled => Some(app.recall_ledger(&visitor.who, design, letter).await?),
        _ => None,
    };
    let place = format!("/designs/{design}/revisions/{letter}");
    let main = html! {
        h1 { "Revision " (letter) " of " span.mono { (design) } }
        (form.summary())
        div.plate {
            div { span.cap { "Revision" } span.big { (letter) } }
            div { span.cap { "State" } (state(revision.state)) }
            div { span.cap { "Published" } (day(&revision.published_at)) }
            @if let Some(matters) = revision.class { div { span.cap { "Change" } (class(matters)) } }
            div.wide { span.cap { "Content, SHA-256" } span.mono.small { (revision.document_sha256) } }
        }
        p.note { (revision.change_note) }
        p { a href={"/kits?design=" (design) "&revision=" (letter)} { "Kits of this revision" } }
        p { a href={(place) "/figures"} { "What this version of the service computes, against what was recorded" } }
        @if let Some(ledger) = &ledger { (told(ledger)) }
        @if revision.state != RevisionState::Recalled {
            h2 { "Packs for all its kits" }
            p { "Issues a pack for every kit of this revision whose last pack is not as a new one would be." }
            form method="post" action={(place) "/jobs"} { (visitor.mark_once()) button.quiet type="submit" { "Issue packs for all kits" } }
        }
        @if visitor.who.role == Role::Publisher { (steps(visitor, &revision, &place, form)) }
        p { a href={"/designs/" (design)} { "Back to the design" } }
    };
    Ok(layout::page(app, visitor, "/designs", &format!("Revision {letter} of {design}"), &main))
}

fn steps(visitor: &Visitor, revision: &RevisionView, place: &str, form: &Filled) -> Markup {
    html! {
        @if revision.state.takes_kits() {
            h2 { "Withdraw" }
            p { "No new kits are sold with it, and none is moved to it. Kits that have it go on." }
            form method="post" action={(place) "/withdrawal"} {
                (visitor.mark_once())
                (area(form, "reason", "Reason", "For those who hold it.", 3))
                button.quiet type="submit" { "Withdraw revision " (revision.letter) }
            }
        } @else {
            h2 { "Reinstate" }
            form method="post" action={(place) "/reinstatement"} {
                (visitor.mark_once())
                (area(form, "reason", "Reason", "For those who hold it.", 3))
                button.quiet type="submit" { "Put revision " (revision.letter) " in force again" }
            }
        }
        @if revision.state != RevisionState::Recalled {
            h2 { "Recall" }
            p { "Every holder is told to stop. Packs are handed out only after the stop sheet was acknowledged. Do not soften the hazard." }
            form method="post" action={(place) "/recall"} {
                (visitor.mark_once())
                (area(form, "hazard", "What can happen", "In plain words.", 3))
                (area(form, "what_to_do", "What holders are to do now", "", 3))
                (area(form, "remedies", "What you offer them", "", 3))
                button.danger type="submit" { "Recall revision " (revision.letter) }
            }
        }
    }
}

fn told(ledger: &RecallLedger) -> Markup {
    html! {
        h2 { "Who has acknowledged the recall" }
        p { (ledger.acknowledged) " have, " (ledger.open) " have not." }
        table.stack {
            caption.unseen { "Kits that the recall concerns" }
            thead { tr { th scope="col" { "Kit" } th scope="col" { "Acknowledged" } } }
            tbody {
                @for holder in &ledger.kits {
                    tr {
                        th scope="row" data-is="Kit" { a.mono href={"/kits/" (holder.kit)} { (holder.kit) } }
                        td data-is="Acknowledged" { @match &holder.acknowledged_at { Some(at) => { (minute(at)) @if let Some(by) = &holder.acknowledged_by { " " (by.words()) } } None => span.tag.stop { "not yet" } } }
                    }
                }
            }
        }
    }
}
