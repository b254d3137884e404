//! The stop sheet of a recall, to be read to its end and acknowledged there.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::confirmation::{self, Answer, Question};
use crate::pages::form::submission::Submission;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{answered_on, day};
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::Role;
use maud::html;

/// The sheet.
pub async fn read(
    State(app): State<App>,
    visitor: Visitor,
    Path((serial, letter)): Path<(String, String)>,
) -> Result<Response, Problem> {
    let sheet = app.stop_sheet(&visitor.who, &serial, &letter).await?;
    let words = visitor.words;
    let (says, heads) = (&words.stop_sheet, &words.labels);
    let main = html! {
        div.state.stop {
            h1 { (sheet.heading) }
            p { (sheet.first) }
        }
        div.plate {
            div { span.cap { (heads.kit()) } span.big { (sheet.kit) } }
            div { span.cap { (heads.revision()) } span.big { (sheet.revision) } }
            div { span.cap { (heads.design()) } (sheet.design_name) }
            div { span.cap { (says.recalled()) } (says.recalled_by(day(&sheet.recalled_at), &sheet.supplier)) }
        }
        h2 { (says.hazard_heading()) }
        p.note { (sheet.hazard) }
        h2 { (says.action_heading()) }
        p.note { (sheet.what_to_do) }
        h2 { (says.remedies_heading()) }
        p.note { (sheet.remedies) }
        @if let Some(contact) = &sheet.contact {
            h2 { (says.contact_heading()) }
            p.note { (contact) }
        }
        @match &sheet.acknowledged_at {
            Some(at) => p { (says.acknowledged(answered_on(words, Some(at), sheet.acknowledged_by.as_ref()))) },
            None => form method="post" action={"/kits/" (serial) "/stop-sheets/" (letter)} {
                (visitor.mark())
                @if is_holder(&visitor) { button.danger type="submit" { (says.acknowledge_button()) } }
                @else { button.danger type="submit" { (says.acknowledge_button_desk()) } }
            }
        }
        p { a href={"/kits/" (serial) "/stop-sheets/" (letter) "/print"} { (says.print_link()) } }
        p { a href={"/kits/" (serial)} { (says.back()) } }
    };
    Ok(layout::page(&app, &visitor, "", &says.title(&serial), &main))
}

/// The sheet to print.
pub async fn print(
    State(app): State<App>,
    visitor: Visitor,
    Path((serial, letter)): Path<(String, String)>,
) -> Result<Response, Problem> {
    let drawn = app.stop_sheet_pdf(&visitor.who, &serial, &letter, None).await?;
    Ok(([(header::CONTENT_TYPE, "application/pdf")], drawn).into_response())
}

/// Records that it was read.
pub async fn acknowledge(
    State(app): State<App>,
    Path((serial, letter)): Path<(String, String)>,
    submission: Submission,
) -> Result<Response, Problem> {
    let sheet = app.stop_sheet(&submission.visitor.who, &serial, &letter).await?;
    if !is_holder(&submission.visitor) && submission.answer() != Answer::Yes && sheet.acknowledged_at.is_none() {
        let says = &submission.visitor.words.stop_sheet;
        let what = html! {
            p { (says.sure_on_behalf(&serial)) }
            p { (says.sure_opens(&letter)) }
        };
        let question = Question {
            here: "",
            title: says.sure_heading(&serial, &letter),
            what,
            yes: says.sure_yes().to_owned(),
            no: Some(format!("/kits/{serial}/stop-sheets/{letter}")),
        };
        return Ok(confirmation::ask(&app, &submission, &question));
    }
    app.acknowledge_recall(&submission.visitor.who, &serial, &letter).await?;
    Ok(Redirect::to(&format!("/kits/{serial}")).into_response())
}

fn is_holder(visitor: &Visitor) -> bool {
    matches!(visitor.who.role, Role::Builder { .. })
}
