//! Many kits at once, pasted as comma-separated values.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::deed::Deed;
use crate::pages::form::filled::{Filled, area};
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use matchmark_service::{FieldError, Imported, ServiceError};
use maud::{Markup, html};

const EXAMPLE: &str = "serial,design,revision,customer_name,customer_email,order_number,choices";

/// The form.
pub async fn form(State(app): State<App>, visitor: Visitor) -> Result<Response, Problem> {
    visitor.who.may_publish()?;
    Ok(show(&app, &visitor, &Filled::with(&[("file", &format!("{EXAMPLE}\n"))]), &[]))
}

/// Registers all of them, or none and says why by line.
pub async fn import(State(app): State<App>, deed: Deed) -> Result<Response, Problem> {
    let once = deed.once("kit-imports");
    let Deed { visitor, form, .. } = deed;
    match app.import_kits(&visitor.who, &form.get("file").replace("\r\n", "\n"), &once).await {
        Ok(imported) => Ok(layout::page(&app, &visitor, "/kits", "Kits imported", &done(&imported))),
        Err(ServiceError::KitsNotImported(faults)) => {
            let again = show(&app, &visitor, &form, &faults);
            Ok((StatusCode::UNPROCESSABLE_ENTITY, again).into_response())
        }
        Err(error) => Err(error.into()),
    }
}

fn show(app: &App, visitor: &Visitor, form: &Filled, faults: &[FieldError]) -> Response {
    let main = html! {
        h1 { "Import many kits" }
        @if !faults.is_empty() {
            div.faults role="alert" aria-labelledby="faults" {
                h2 id="faults" { "No kit was registered. Mend these lines and send all of it again." }
                ul { @for fault in faults { li { a href="#file" { (fault.detail) } } } }
            }
        }
        p { "The first line names the columns: " code { (EXAMPLE) } ". The last two may be left out. Either all kits are registered or none." }
        form method="post" action="/kits/import" {
            (visitor.mark_once())
            (area(form, "file", "The file", "Paste it here: comma-separated values, a line for each kit.", 14))
            button type="submit" { "Register all of them" }
        }
    };
    layout::page(app, visitor, "/kits", "Import many kits", &main)
}

fn done(imported: &Imported) -> Markup {
    html! {
        h1 { (imported.kits) " kits registered" }
        ul { @for serial in &imported.serials { li { a.mono href={"/kits/" (serial)} { (serial) } } } }
        p { a href="/kits" { "All kits" } }
    }
}
