//! Many kits at once, pasted as comma-separated values.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::fields::{FormFields, area};
use crate::pages::form::submission::Submission;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::words::Words;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use matchmark_service::{FieldError, Imported, ServiceError};
use maud::{Markup, html};

/// The columns.
pub const EXAMPLE: &str = "serial,design,revision,customer_name,customer_email,order_number,choices";

/// The form.
pub async fn form(State(app): State<App>, visitor: Visitor) -> Result<Response, Problem> {
    visitor.who.may_publish()?;
    Ok(show(&app, &visitor, &FormFields::with(visitor.words, &[("file", &format!("{EXAMPLE}\n"))]), &[]))
}

/// Registers all of them, or none and says why by line.
pub async fn import(State(app): State<App>, submission: Submission) -> Result<Response, Problem> {
    let once = submission.once("kit-imports");
    let Submission { visitor, form, .. } = submission;
    match app.import_kits(&visitor.who, &form.get("file").replace("\r\n", "\n"), &once).await {
        Ok(imported) => Ok(layout::page(
            &app,
            &visitor,
            "/kits",
            &visitor.words.import.done_title(),
            &done(visitor.words, &imported),
        )),
        Err(ServiceError::KitsNotImported(faults)) => {
            let again = show(&app, &visitor, &form, &faults);
            Ok((StatusCode::UNPROCESSABLE_ENTITY, again).into_response())
        }
        Err(error) => Err(error.into()),
    }
}

fn show(app: &App, visitor: &Visitor, form: &FormFields, faults: &[FieldError]) -> Response {
    let says = &visitor.words.import;
    let main = html! {
        h1 { (says.heading()) }
        @if !faults.is_empty() {
            div.faults role="alert" aria-labelledby="faults" {
                h2 id="faults" { (says.faults_heading()) }
                ul { @for fault in faults { li { a href="#file" { (fault.detail) } } } }
            }
        }
        p { (says.columns(html! { code { (EXAMPLE) } })) }
        form method="post" action="/kits/import" {
            (visitor.mark_once())
            (area(form, "file", says.file_label(), says.file_hint(), 14))
            button type="submit" { (says.button()) }
        }
    };
    layout::page(app, visitor, "/kits", &says.heading(), &main)
}

fn done(words: &Words, imported: &Imported) -> Markup {
    let says = &words.import;
    html! {
        h1 { (says.done_heading(imported.kits, imported.kits)) }
        ul { @for serial in &imported.serials { li { a.mono href={"/kits/" (serial)} { (serial) } } } }
        p { a href="/kits" { (says.all_link()) } }
    }
}
