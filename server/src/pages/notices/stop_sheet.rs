//! The stop sheet of a recall, to be read to its end and acknowledged there.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::deed::Deed;
use crate::pages::form::sure::{self, Answer, Question};
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{answered, day};
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
    let main = html! {
        div.state.stop {
            h1 { (sheet.heading) }
            p { (sheet.first) }
        }
        div.plate {
            div { span.cap { "Kit" } span.big { (sheet.kit) } }
            div { span.cap { "Revision" } span.big { (sheet.revision) } }
            div { span.cap { "Design" } (sheet.design_name) }
            div { span.cap { "Recalled" } (day(&sheet.recalled_at)) " by " (sheet.supplier) }
        }
        h2 { "Hazard" }
        p.note { (sheet.hazard) }
        h2 { "What to do" }
        p.note { (sheet.what_to_do) }
        h2 { "What we offer" }
        p.note { (sheet.remedies) }
        @if let Some(contact) = &sheet.contact {
            h2 { "Whom to ask" }
            p.note { (contact) }
        }
        @match &sheet.acknowledged_at {
            Some(at) => p { "Acknowledged " (answered(Some(at), sheet.acknowledged_by.as_ref())) "." },
            None => form method="post" action={"/kits/" (serial) "/stop-sheets/" (letter)} {
                (visitor.mark())
                @if is_holder(&visitor) { button.danger type="submit" { "I have read this sheet and will do what it says" } }
                @else { button.danger type="submit" { "The holder has read this sheet and will do what it says" } }
            }
        }
        p { a href={"/kits/" (serial) "/stop-sheets/" (letter) "/print"} { "Print this sheet (PDF)" } }
        p { a href={"/kits/" (serial)} { "Back to the kit" } }
    };
    Ok(layout::page(&app, &visitor, "", &format!("Stop sheet of kit {serial}"), &main))
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
    deed: Deed,
) -> Result<Response, Problem> {
    let sheet = app.stop_sheet(&deed.visitor.who, &serial, &letter).await?;
    if !is_holder(&deed.visitor) && deed.answer() != Answer::Yes && sheet.acknowledged_at.is_none() {
        let what = html! {
            p { "It is recorded as by you, on behalf of the holder of kit " (serial) ": do so only when you have read the sheet to them, or they have told you that they read it." }
            p { "The holder is not asked again, and packs of revision " (letter) " that were issued open to them from then on, unless the kit is on hold. It cannot be taken back." }
        };
        let question = Question {
            here: "",
            title: format!("Has the holder of kit {serial} read the stop sheet of revision {letter}?"),
            what,
            yes: "Yes, the holder has read it".to_owned(),
            no: Some(format!("/kits/{serial}/stop-sheets/{letter}")),
        };
        return Ok(sure::ask(&app, &deed, &question));
    }
    app.acknowledge_recall(&deed.visitor.who, &serial, &letter).await?;
    Ok(Redirect::to(&format!("/kits/{serial}")).into_response())
}

fn is_holder(visitor: &Visitor) -> bool {
    matches!(visitor.who.role, Role::Builder { .. })
}
