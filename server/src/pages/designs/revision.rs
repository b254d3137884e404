//! A published revision: what it is, and what may still be done about it.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::designs::files;
use crate::pages::form::confirmation::{self, Answer, Question};
use crate::pages::form::fields::{FormFields, area};
use crate::pages::form::submission::Submission;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{answered, class, day, many, minute, state};
use crate::words::Words;
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
    show(&app, &visitor, &design, &letter, &FormFields::empty(visitor.words)).await
}

/// Withdraws it.
pub async fn withdraw(
    State(app): State<App>,
    Path((design, letter)): Path<(String, String)>,
    submission: Submission,
) -> Result<Response, Problem> {
    let reason = Reason { reason: submission.form.text("reason") };
    let says = &submission.visitor.words.revision;
    let asked = Asked {
        checked: reason.check(),
        title: says.withdraw_sure_heading(&letter, &design),
        about: html! { p { (says.withdraw_sure_about()) } },
        yes: says.withdraw_sure_yes(&letter),
    };
    let submission = match sure_of(&app, submission, &design, &letter, asked).await? {
        ControlFlow::Continue(submission) => submission,
        ControlFlow::Break(page) => return Ok(page),
    };
    let once = submission.once(&format!("designs/{design}/revisions/{letter}/withdrawal"));
    let done = app.withdraw(&submission.visitor.who, &design, &letter, &reason, &once).await;
    after(&app, submission, &design, &letter, done).await
}

/// Recalls it.
pub async fn recall(
    State(app): State<App>,
    Path((design, letter)): Path<(String, String)>,
    submission: Submission,
) -> Result<Response, Problem> {
    let form = &submission.form;
    let recall =
        Recall { hazard: form.text("hazard"), what_to_do: form.text("what_to_do"), remedies: form.text("remedies") };
    let says = &submission.visitor.words.revision;
    let about = html! {
        p { (says.recall_sure_about()) }
        p { strong { (says.recall_hazard()) } } p.note { (recall.hazard) }
        p { strong { (says.recall_sure_action()) } } p.note { (recall.what_to_do) }
        p { strong { (says.recall_sure_remedies()) } } p.note { (recall.remedies) }
    };
    let asked = Asked {
        checked: recall.check(),
        title: says.recall_sure_heading(&letter, &design),
        about,
        yes: says.recall_sure_yes(&letter),
    };
    let submission = match sure_of(&app, submission, &design, &letter, asked).await? {
        ControlFlow::Continue(submission) => submission,
        ControlFlow::Break(page) => return Ok(page),
    };
    let once = submission.once(&format!("designs/{design}/revisions/{letter}/recall"));
    let done = app.recall(&submission.visitor.who, &design, &letter, &recall, &once).await;
    after(&app, submission, &design, &letter, done).await
}

/// Puts it in force again.
pub async fn reinstate(
    State(app): State<App>,
    Path((design, letter)): Path<(String, String)>,
    submission: Submission,
) -> Result<Response, Problem> {
    let reason = Reason { reason: submission.form.text("reason") };
    let says = &submission.visitor.words.revision;
    let asked = Asked {
        checked: reason.check(),
        title: says.reinstate_sure_heading(&letter, &design),
        about: html! { p { (says.reinstate_sure_about()) } },
        yes: says.reinstate_sure_yes(&letter),
    };
    let submission = match sure_of(&app, submission, &design, &letter, asked).await? {
        ControlFlow::Continue(submission) => submission,
        ControlFlow::Break(page) => return Ok(page),
    };
    let once = submission.once(&format!("designs/{design}/revisions/{letter}/reinstatement"));
    let done = app.reinstate(&submission.visitor.who, &design, &letter, &reason, &once).await;
    after(&app, submission, &design, &letter, done).await
}

/// What is asked before a step.
struct Asked {
    /// Whether what was filled in will do.
    checked: Result<(), ServiceError>,
    /// The question.
    title: String,
    /// What it means.
    about: Markup,
    /// The button that means it.
    yes: String,
}

/// Asks once more whether a step is meant, when what was filled in will do; goes on with one that is.
async fn sure_of(
    app: &App,
    submission: Submission,
    design: &str,
    letter: &str,
    asked: Asked,
) -> Result<ControlFlow<Response, Submission>, Problem> {
    submission.visitor.who.may_publish()?;
    let answer = submission.answer();
    if answer == Answer::Yes {
        return Ok(ControlFlow::Continue(submission));
    }
    let kits = app.holders(&submission.visitor.who, design, letter).await?;
    if answer == Answer::No {
        return Ok(ControlFlow::Break(show(app, &submission.visitor, design, letter, &submission.form).await?));
    }
    if let Err(error) = asked.checked {
        return Ok(ControlFlow::Break(after(app, submission, design, letter, Err(error)).await?));
    }
    let what = html! {
        p { (submission.visitor.words.revision.sure_holders(many(kits), kits)) }
        (asked.about)
    };
    let question = Question { here: "/designs", title: asked.title, what, yes: asked.yes, no: None };
    Ok(ControlFlow::Break(confirmation::ask(app, &submission, &question)))
}

/// Back to the page when it is done, else the page again with what is wrong.
async fn after(
    app: &App,
    submission: Submission,
    design: &str,
    letter: &str,
    done: Result<RevisionView, ServiceError>,
) -> Result<Response, Problem> {
    let Submission { visitor, form, .. } = submission;
    match done {
        Ok(_) => Ok(Redirect::to(&format!("/designs/{design}/revisions/{letter}")).into_response()),
        Err(error) => {
            let again = show(app, &visitor, design, letter, &form.refused(error)?).await?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, again).into_response())
        }
    }
}

async fn show(
    app: &App,
    visitor: &Visitor,
    design: &str,
    letter: &str,
    form: &FormFields,
) -> Result<Response, Problem> {
    visitor.who.may_support()?;
    let revision = app.revision(&visitor.who, design, letter).await?;
    let ledger = match revision.state {
        RevisionState::Recalled => Some(app.recall_ledger(&visitor.who, design, letter).await?),
        _ => None,
    };
    let place = format!("/designs/{design}/revisions/{letter}");
    let words = visitor.words;
    let (says, heads) = (&words.revision, &words.labels);
    let main = html! {
        h1 { (says.heading(letter, html! { span.mono { (design) } })) }
        (form.summary())
        div.plate {
            div { span.cap { (heads.revision()) } span.big { (letter) } }
            div { span.cap { (heads.state()) } (state(words, revision.state)) }
            div { span.cap { (heads.published()) } (day(&revision.published_at)) }
            @if let Some(matters) = revision.class { div { span.cap { (heads.change()) } (class(words, matters)) } }
            div.wide { span.cap { (says.content()) } span.mono.small { (revision.document_sha256) } }
        }
        p.note { (revision.change_note) }
        p { a href={"/kits?design=" (design) "&revision=" (letter)} { (says.kits_link()) } }
        p { a href={(place) "/figures"} { (says.figures_link()) } }
        @if let Some(ledger) = &ledger { (told(words, ledger)) }
        @if revision.state != RevisionState::Recalled {
            h2 { (says.packs_heading()) }
            p { (says.packs_about()) }
            form method="post" action={(place) "/jobs"} { (visitor.mark_once()) button.quiet type="submit" { (says.packs_button()) } }
        }
        @if revision.state != RevisionState::Recalled { (files::section(words, &place)) }
        @if visitor.who.role == Role::Publisher { (steps(visitor, &revision, &place, form)) }
        p { a href={"/designs/" (design)} { (says.back()) } }
    };
    Ok(layout::page(app, visitor, "/designs", &says.heading(letter, design), &main))
}

fn steps(visitor: &Visitor, revision: &RevisionView, place: &str, form: &FormFields) -> Markup {
    let says = &visitor.words.revision;
    html! {
        @if revision.state.takes_kits() {
            h2 { (says.withdraw_heading()) }
            p { (says.withdraw_about()) }
            form method="post" action={(place) "/withdrawal"} {
                (visitor.mark_once())
                (area(form, "reason", says.reason_label(), says.reason_hint(), 3))
                button.quiet type="submit" { (says.withdraw_button(&revision.letter)) }
            }
        } @else {
            h2 { (says.reinstate_heading()) }
            form method="post" action={(place) "/reinstatement"} {
                (visitor.mark_once())
                (area(form, "reason", says.reason_label(), says.reason_hint(), 3))
                button.quiet type="submit" { (says.reinstate_button(&revision.letter)) }
            }
        }
        @if revision.state != RevisionState::Recalled {
            h2 { (says.recall_heading()) }
            p { (says.recall_about()) }
            form method="post" action={(place) "/recall"} {
                (visitor.mark_once())
                (area(form, "hazard", says.recall_hazard(), says.recall_hazard_hint(), 3))
                (area(form, "what_to_do", says.recall_action(), "", 3))
                (area(form, "remedies", says.recall_remedies(), "", 3))
                button.danger type="submit" { (says.recall_button(&revision.letter)) }
            }
        }
    }
}

fn told(words: &Words, ledger: &RecallLedger) -> Markup {
    let (says, heads) = (&words.revision, &words.labels);
    html! {
        h2 { (says.ledger_heading()) }
        p { (says.ledger_sums(ledger.acknowledged, ledger.open)) }
        table.stack {
            caption.unseen { (says.ledger_caption()) }
            thead { tr { th scope="col" { (heads.kit()) } th scope="col" { (says.ledger_head_acknowledged()) } } }
            tbody {
                @for holder in &ledger.kits {
                    tr {
                        th scope="row" data-is=(heads.kit()) { a.mono href={"/kits/" (holder.kit)} { (holder.kit) } }
                        td data-is=(says.ledger_head_acknowledged()) {
                            @match &holder.acknowledged_at {
                                Some(at) => (answered(words, &minute(words, at), holder.acknowledged_by.as_ref())),
                                None => span.tag.stop { (says.ledger_not_yet()) },
                            }
                        }
                    }
                }
            }
        }
    }
}
