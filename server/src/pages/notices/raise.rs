//! Raising a notice: whom it concerns, and what is to be done to each kit, is computed.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::fields::{FormFields, area, choose};
use crate::pages::form::submission::Submission;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{class_named, classes};
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{ChangeClass, NewNotice};
use maud::html;

/// The form.
pub async fn form(State(app): State<App>, visitor: Visitor, Path(design): Path<String>) -> Result<Response, Problem> {
    let letters = letters(&app, &visitor, &design).await?;
    let before = letters.len().checked_sub(2).and_then(|index| letters.get(index)).cloned().unwrap_or_default();
    let newest = letters.last().cloned().unwrap_or_default();
    Ok(show(&app, &visitor, &design, &letters, &FormFields::with(visitor.words, &[("from", &before), ("to", &newest)])))
}

/// Raises it, or shows the form again with what is wrong.
pub async fn raise(
    State(app): State<App>,
    Path(design): Path<String>,
    submission: Submission,
) -> Result<Response, Problem> {
    let once = submission.once(&format!("designs/{design}/notices"));
    let Submission { visitor, form, .. } = submission;
    let letters = letters(&app, &visitor, &design).await?;
    let class = class_named(form.get("class"));
    let new = NewNotice {
        from: form.get("from").to_owned(),
        to: form.get("to").to_owned(),
        class: class.unwrap_or(ChangeClass::Mandatory),
        text: form.text("text"),
    };
    let form = if class.is_none() { form.with_fault("/class", visitor.words.raise.class_missing()) } else { form };
    if !form.is_fine() {
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, show(&app, &visitor, &design, &letters, &form)).into_response());
    }
    match app.raise_notice(&visitor.who, &design, &new, &once).await {
        Ok(notice) => {
            let place = format!("/notices?design={design}&notice={}", notice.number);
            Ok(Redirect::to(&place).into_response())
        }
        Err(error) => {
            let again = show(&app, &visitor, &design, &letters, &form.refused(error)?);
            Ok((StatusCode::UNPROCESSABLE_ENTITY, again).into_response())
        }
    }
}

/// The letters of all revisions, oldest first, for those who may raise a notice.
async fn letters(app: &App, visitor: &Visitor, design: &str) -> Result<Vec<String>, Problem> {
    visitor.who.may_publish()?;
    let revisions = app.revisions(&visitor.who, design).await?;
    Ok(revisions.into_iter().map(|revision| revision.letter).collect())
}

fn show(app: &App, visitor: &Visitor, design: &str, letters: &[String], form: &FormFields) -> Response {
    let words = visitor.words;
    let says = &words.raise;
    let letters: Vec<(String, String)> = letters.iter().map(|letter| (letter.clone(), says.letter(letter))).collect();
    let main = html! {
        h1 { (says.heading(html! { span.mono { (design) } })) }
        (form.summary())
        p { (says.about()) }
        form method="post" action={"/designs/" (design) "/notices/new"} {
            (visitor.mark_once())
            (choose(form, "from", says.from_label(), "", &letters))
            (choose(form, "to", says.to_label(), "", &letters))
            (choose(form, "class", says.class_label(), "", &classes(words)))
            (area(form, "text", says.text_label(), says.text_hint(), 5))
            button type="submit" { (says.button()) }
        }
        p { a href={"/designs/" (design)} { (says.back()) } }
    };
    layout::page(app, visitor, "/designs", &says.heading(design), &main)
}
