//! Whom the supplier's customers are to ask: as it is shown to them, and the form that changes it.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::fields::{FormFields, area};
use crate::pages::form::submission::Submission;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::minute;
use crate::words::Words;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{ContactView, NewContact, Role};
use maud::{Markup, html};

/// Whom to ask, for whoever reads a page.
pub fn ask(words: &Words, contact: &ContactView) -> Markup {
    html! {
        section.ask aria-labelledby="ask" {
            h2 id="ask" { (words.contact.ask_heading()) }
            p { (contact.supplier) }
            @if let Some(text) = &contact.text { p.note { (text) } }
        }
    }
}

/// What holders are told now, and for a publisher the form that says it anew.
pub async fn form(State(app): State<App>, visitor: Visitor) -> Result<Response, Problem> {
    let contact = app.contact().await?;
    let now = contact.text.clone().unwrap_or_default();
    show(&visitor, &app, &contact, &FormFields::with(visitor.words, &[("text", &now)]))
}

/// Says it anew.
pub async fn change(State(app): State<App>, submission: Submission) -> Result<Response, Problem> {
    let new = NewContact { text: submission.form.text("text") };
    match app.set_contact(&submission.visitor.who, &new).await {
        Ok(_) => Ok(Redirect::to("/contact").into_response()),
        Err(error) => {
            let form = submission.form.refused(error)?;
            let again = show(&submission.visitor, &app, &app.contact().await?, &form)?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, again).into_response())
        }
    }
}

fn show(visitor: &Visitor, app: &App, contact: &ContactView, form: &FormFields) -> Result<Response, Problem> {
    visitor.who.may_support()?;
    let words = visitor.words;
    let says = &words.contact;
    let main = html! {
        h1 { (says.heading()) }
        (form.summary())
        @match (&contact.text, &contact.at) {
            (Some(text), Some(at)) => div.state { p.note { (contact.supplier) "\n" (text) } p.small { (says.since(minute(words, at))) } },
            _ => div.state.warn { p { span.mark aria-hidden="true" { "\u{25b3}" } (says.nobody_yet()) } },
        }
        p { (says.where_it_stands()) }
        @if visitor.who.role == Role::Publisher {
            form method="post" action="/contact" {
                (visitor.mark())
                (area(form, "text", says.text_label(), says.text_hint(), 4))
                button type="submit" { (says.change_button()) }
            }
        }
    };
    Ok(layout::page(app, visitor, "/contact", &says.ask_heading(), &main))
}
