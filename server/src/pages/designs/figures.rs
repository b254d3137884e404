//! What this version of the service computes for a revision, against what was recorded when it was published.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::deed::Deed;
use crate::pages::form::filled::Filled;
use crate::pages::form::sure::{self, Answer, Question};
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{count, day};
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{CombinationFigures, Role, TakeFigures, figure_words};
use maud::{Markup, html};

/// The page.
pub async fn read(
    State(app): State<App>,
    visitor: Visitor,
    Path((design, letter)): Path<(String, String)>,
) -> Result<Response, Problem> {
    show(&app, &visitor, &design, &letter, &Filled::default()).await
}

/// Takes what this version computes, once it was looked at and asked about.
pub async fn take(
    State(app): State<App>,
    Path((design, letter)): Path<(String, String)>,
    deed: Deed,
) -> Result<Response, Problem> {
    let who = &deed.visitor.who;
    who.may_publish()?;
    if deed.answer() != Answer::Yes {
        let question = Question {
            here: "/designs",
            title: format!("Take the new figures of revision {letter}?"),
            what: html! {
                p { "Packs and sheets of revision " (letter) " are drawn with the new figures from then on. Packs that were issued stay as they are." }
                p { "Do so only when you know why the two versions differ, and which of them is right. A tube that was cut by the old figures may not fit by the new ones." }
            },
            yes: "Yes, take them".to_owned(),
            no: Some(place(&design, &letter)),
        };
        return Ok(sure::ask(&app, &deed, &question));
    }
    let once = deed.once(&format!("designs/{design}/revisions/{letter}/figures"));
    let taken = TakeFigures { sha256: deed.form.text("sha256") };
    let done = app.take_figures(who, &design, &letter, &taken, &once).await;
    match done {
        Ok(_) => Ok(Redirect::to(&place(&design, &letter)).into_response()),
        Err(error) => {
            let Deed { visitor, form, .. } = deed;
            let again = show(&app, &visitor, &design, &letter, &form.refused(error)?).await?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, again).into_response())
        }
    }
}

fn place(design: &str, letter: &str) -> String {
    format!("/designs/{design}/revisions/{letter}/figures")
}

async fn show(app: &App, visitor: &Visitor, design: &str, letter: &str, form: &Filled) -> Result<Response, Problem> {
    let found = app.figures(&visitor.who, design, letter).await?;
    let may_take = visitor.who.role == Role::Publisher && !visitor.who.read_only;
    let main = html! {
        h1 { "Figures of revision " (letter) " of " span.mono { (design) } }
        (form.summary())
        @if found.agrees {
            p { "This version of the service, " (found.engine) ", computes what was recorded, within 0.01 mm and 0.01 degrees." }
        } @else {
            div.state.warn role="alert" {
                p { span.mark aria-hidden="true" { "\u{25c7}" } "Held: this version of the service, " (found.engine) ", computes other figures than were recorded. Nothing of revision " (letter) " is drawn or handed out until a publisher has looked at them and takes them, or the operator goes back to the version before. Packs that were issued are handed out as they were." }
            }
        }
        @for one in &found.combinations { (combination(one)) }
        @if !found.agrees && may_take {
            form method="post" action=(place(design, letter)) {
                (visitor.mark_once())
                input type="hidden" name="sha256" value=(found.sha256);
                button.danger type="submit" { "Take the new figures" }
            }
        }
        p { a href={"/designs/" (design) "/revisions/" (letter)} { "Back to the revision" } }
    };
    Ok(layout::page(app, visitor, "/designs", &format!("Figures of revision {letter} of {design}"), &main))
}

fn combination(one: &CombinationFigures) -> Markup {
    let choices: Vec<String> = one.choices.iter().map(|(option, choice)| format!("{option}: {choice}")).collect();
    let number = i64::try_from(one.changes.len()).unwrap_or(i64::MAX);
    html! {
        h2 { @if choices.is_empty() { "Every kit" } @else { (choices.join(", ")) } }
        p { "Recorded by version " (one.engine) " on " (day(&one.at)) "; "
            @if number == 0 { "nothing differs." } @else { (count(number, "thing differs:", "things differ:")) } }
        @if number > 0 { ul { @for change in &one.changes { li { (figure_words(change)) } } } }
    }
}
