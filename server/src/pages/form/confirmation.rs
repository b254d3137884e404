//! A submission that ends something is asked once more, on a page of its own that says what will happen. What was filled in stays.

use crate::http::App;
use crate::pages::form::submission::Submission;
use crate::pages::layout;
use axum::response::Response;
use maud::{Markup, html};

/// What is asked.
pub struct Question<'a> {
    /// The way that the page belongs to.
    pub here: &'a str,
    /// What is asked, as a heading.
    pub title: String,
    /// What will happen.
    pub what: Markup,
    /// What the button says.
    pub yes: String,
    /// Where whoever does not want it goes; `None` for the form, with what was filled in.
    pub no: Option<String>,
}

/// Asks.
pub fn ask(app: &App, submission: &Submission, question: &Question<'_>) -> Response {
    let Question { here, title, what, yes, no } = question;
    let says = &submission.visitor.words.forms;
    let main = html! {
        h1 { (title) }
        (submission.form.summary())
        div.state.warn { (what) }
        form method="post" action=(submission.place) {
            @for (name, value) in submission.form.fields().filter(|(name, _)| *name != SURE) {
                input type="hidden" name=(name) value=(value);
            }
            div.row {
                button.danger type="submit" name=(SURE) value="yes" { (yes) }
                @match no {
                    Some(place) => a.button.quiet href=(place) { (says.sure_no_leave()) },
                    None => button.quiet type="submit" name=(SURE) value="no" { (says.sure_no_back()) },
                }
            }
        }
    };
    layout::page(app, &submission.visitor, here, title, &main)
}

/// The field with the answer.
const SURE: &str = "sure";

/// What was answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Answer {
    /// Nothing: it was not asked yet.
    None,
    /// That it is meant.
    Yes,
    /// That it is not.
    No,
}

impl Submission {
    /// What was answered to the question whether it is meant.
    pub fn answer(&self) -> Answer {
        match self.form.get(SURE) {
            "yes" => Answer::Yes,
            "no" => Answer::No,
            _ => Answer::None,
        }
    }
}
