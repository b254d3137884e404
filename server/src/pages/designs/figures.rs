//! What this version of the service computes for a revision, against what was recorded when it was published.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::confirmation::{self, Answer, Question};
use crate::pages::form::fields::FormFields;
use crate::pages::form::submission::Submission;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{day, joined};
use crate::words::{Words, figure_words};
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{CombinationFigures, Role, TakeFigures};
use maud::{Markup, html};

/// The page.
pub async fn read(
    State(app): State<App>,
    visitor: Visitor,
    Path((design, letter)): Path<(String, String)>,
) -> Result<Response, Problem> {
    show(&app, &visitor, &design, &letter, &FormFields::empty(visitor.words)).await
}

/// Takes what this version computes, once it was looked at and asked about.
pub async fn take(
    State(app): State<App>,
    Path((design, letter)): Path<(String, String)>,
    submission: Submission,
) -> Result<Response, Problem> {
    let who = &submission.visitor.who;
    who.may_publish()?;
    if submission.answer() != Answer::Yes {
        let says = &submission.visitor.words.figures;
        let question = Question {
            here: "/designs",
            title: says.take_sure_heading(&letter),
            what: html! {
                p { (says.take_sure_about(&letter)) }
                p { (says.take_sure_care()) }
            },
            yes: says.take_sure_yes().to_owned(),
            no: Some(place(&design, &letter)),
        };
        return Ok(confirmation::ask(&app, &submission, &question));
    }
    let once = submission.once(&format!("designs/{design}/revisions/{letter}/figures"));
    let taken = TakeFigures { sha256: submission.form.text("sha256") };
    let done = app.take_figures(who, &design, &letter, &taken, &once).await;
    match done {
        Ok(_) => Ok(Redirect::to(&place(&design, &letter)).into_response()),
        Err(error) => {
            let Submission { visitor, form, .. } = submission;
            let again = show(&app, &visitor, &design, &letter, &form.refused(error)?).await?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, again).into_response())
        }
    }
}

fn place(design: &str, letter: &str) -> String {
    format!("/designs/{design}/revisions/{letter}/figures")
}

async fn show(
    app: &App,
    visitor: &Visitor,
    design: &str,
    letter: &str,
    form: &FormFields,
) -> Result<Response, Problem> {
    let found = app.figures(&visitor.who, design, letter).await?;
    let may_take = visitor.who.role == Role::Publisher && !visitor.who.read_only;
    let words = visitor.words;
    let says = &words.figures;
    let main = html! {
        h1 { (says.heading(letter, html! { span.mono { (design) } })) }
        (form.summary())
        @if found.agrees {
            p { (says.agrees(&found.engine)) }
        } @else {
            div.state.warn role="alert" {
                p { span.mark aria-hidden="true" { "\u{25c7}" } (says.held(&found.engine, letter)) }
            }
        }
        @for one in &found.combinations { (combination(words, one)) }
        @if !found.agrees && may_take {
            form method="post" action=(place(design, letter)) {
                (visitor.mark_once())
                input type="hidden" name="sha256" value=(found.sha256);
                button.danger type="submit" { (says.take_button()) }
            }
        }
        p { a href={"/designs/" (design) "/revisions/" (letter)} { (says.back()) } }
    };
    Ok(layout::page(app, visitor, "/designs", &says.heading(letter, design), &main))
}

fn combination(words: &Words, one: &CombinationFigures) -> Markup {
    let says = &words.figures;
    let choices = joined(words, one.choices.iter().map(|(option, choice)| words.values.pair(option, choice)));
    let number = one.changes.len();
    html! {
        h2 { @match choices { None => (says.every_kit()), Some(choices) => (choices) } }
        p { @if number == 0 { (says.recorded_alike(&one.engine, day(&one.at))) } @else { (says.recorded_unlike(number, number, &one.engine, day(&one.at))) } }
        @if number > 0 { ul { @for change in &one.changes { li { (figure_words(words, change)) } } } }
    }
}
