//! The review of a draft: where it stands, and the forms that freeze and thaw it.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::confirmation::{self, Answer, Question};
use crate::pages::form::submission::Submission;
use crate::pages::visitor::Visitor;
use crate::pages::words::minute;
use crate::words::Words;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{DraftCondition, DraftState, ReviewView, Role};
use maud::{Markup, html};

/// Where a draft stands, and what may be done about it.
pub fn standing(visitor: &Visitor, review: &ReviewView) -> Markup {
    let place = format!("/designs/{}/draft", review.design);
    let may = visitor.who.role == Role::Publisher;
    let words = visitor.words;
    let says = &words.review;
    html! {
        @match &review.frozen {
            Some(frozen) => div.state.warn {
                p { span.mark aria-hidden="true" { "\u{25c6}" } (says.frozen(minute(words, &frozen.at), who(visitor, &frozen.by, &frozen.by_name), review.save, who(visitor, &review.saved_by, &review.saved_by_name))) }
                p.small { (says.content(html! { span.mono { (frozen.document_sha256) } })) }
            },
            None => p { (says.open(review.save, who(visitor, &review.saved_by, &review.saved_by_name))) },
        }
        @if may {
            @match review.state {
                DraftState::Draft => form method="post" action={(place) "/freeze"} {
                    (visitor.mark_once())
                    input type="hidden" name="draft" value=(review.sha256);
                    button.quiet type="submit" { (says.freeze_button()) }
                },
                DraftState::Frozen => form method="post" action={(place) "/thaw"} {
                    (visitor.mark_once())
                    button.quiet type="submit" { (says.thaw_button()) }
                },
            }
        }
    }
}

/// What publishing it takes, or what stands in the way of who is signed in.
pub fn condition(words: &Words, review: &ReviewView) -> Markup {
    let says = &words.review;
    html! {
        @if review.waits_for_another {
            div.state.warn { p { span.mark aria-hidden="true" { "\u{25c6}" }
                @if review.state == DraftState::Draft { (says.freeze_first()) }
                @else { (says.somebody_else()) }
            } }
        } @else if !review.second_approver {
            p.small { (says.nobody_else()) }
        }
    }
}

fn who(visitor: &Visitor, token: &str, name: &str) -> Markup {
    let says = &visitor.words.review;
    html! {
        @if token == visitor.who.token { (says.by_you()) }
        @else if name.is_empty() { (says.by_token(html! { span.mono { (token.get(..8).unwrap_or(token)) } })) }
        @else { (name) }
    }
}

/// Freezes the draft that was looked at.
pub async fn freeze(
    State(app): State<App>,
    Path(design): Path<String>,
    submission: Submission,
) -> Result<Response, Problem> {
    let once = submission.once(&format!("designs/{design}/draft/freeze"));
    let condition = DraftCondition { if_match: Some(vec![submission.form.get("draft").to_owned()]), if_absent: false };
    app.freeze(&submission.visitor.who, &design, &condition, &once).await?;
    Ok(Redirect::to(&format!("/designs/{design}")).into_response())
}

/// Lets it be written again, which ends what somebody else may be looking at.
pub async fn thaw(
    State(app): State<App>,
    Path(design): Path<String>,
    submission: Submission,
) -> Result<Response, Problem> {
    submission.visitor.who.may_publish()?;
    let review = app.review(&submission.visitor.who, &design).await?;
    if let Some(frozen) = review.frozen.as_ref().filter(|_| submission.answer() != Answer::Yes) {
        let words = submission.visitor.words;
        let says = &words.review;
        let by = who(&submission.visitor, &frozen.by, &frozen.by_name);
        let what = html! { p { (says.thaw_sure_about(minute(words, &frozen.at), by)) } };
        let question = Question {
            here: "/designs",
            title: says.thaw_sure_heading(&design),
            what,
            yes: says.thaw_sure_yes().to_owned(),
            no: Some(format!("/designs/{design}")),
        };
        return Ok(confirmation::ask(&app, &submission, &question));
    }
    let once = submission.once(&format!("designs/{design}/draft/thaw"));
    app.thaw(&submission.visitor.who, &design, &once).await?;
    Ok(Redirect::to(&format!("/designs/{design}")).into_response())
}
