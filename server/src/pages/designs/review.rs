//! The review of a draft: where it stands, and the forms that freeze and thaw it.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::deed::Deed;
use crate::pages::form::sure::{self, Answer, Question};
use crate::pages::visitor::Visitor;
use crate::pages::words::minute;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{DraftCondition, DraftState, ReviewView, Role};
use maud::{Markup, html};

/// Where a draft stands, and what may be done about it.
pub fn standing(visitor: &Visitor, review: &ReviewView) -> Markup {
    let place = format!("/designs/{}/draft", review.design);
    let may = visitor.who.role == Role::Publisher;
    html! {
        @match &review.frozen {
            Some(frozen) => div.state.warn {
                p { span.mark aria-hidden="true" { "\u{25c6}" } "Frozen for review on " (minute(&frozen.at)) " by " (who(visitor, &frozen.by, &frozen.by_name))
                    ": save " (review.save) ", written by " (who(visitor, &review.saved_by, &review.saved_by_name)) ". Nobody writes it until it is thawed or published." }
                p.small { "Content, SHA-256: " span.mono { (frozen.document_sha256) } }
            },
            None => p { "Save " (review.save) ", written by " (who(visitor, &review.saved_by, &review.saved_by_name)) ". It can be written." },
        }
        @if may {
            @match review.state {
                DraftState::Draft => form method="post" action={(place) "/freeze"} {
                    (visitor.mark_once())
                    input type="hidden" name="draft" value=(review.sha256);
                    button.quiet type="submit" { "Freeze for review" }
                },
                DraftState::Frozen => form method="post" action={(place) "/thaw"} {
                    (visitor.mark_once())
                    button.quiet type="submit" { "Thaw" }
                },
            }
        }
    }
}

/// What publishing it takes, or what stands in the way of who is signed in.
pub fn condition(review: &ReviewView) -> Markup {
    html! {
        @if review.waits_for_another {
            div.state.warn { p { span.mark aria-hidden="true" { "\u{25c6}" }
                @if review.state == DraftState::Draft { "This service publishes only what a second person has looked at. Freeze the draft; then somebody else, who neither wrote nor froze it, publishes it here." }
                @else { "You wrote or froze this draft, so that somebody else has to publish it here, signed in with a publisher's token of their own." }
            } }
        } @else if !review.second_approver {
            p.small { "No second person has to look at it first, because the setting second-approver is off; that it was published by one is on record." }
        }
    }
}

fn who(visitor: &Visitor, token: &str, name: &str) -> Markup {
    html! {
        @if token == visitor.who.token { "you" }
        @else if name.is_empty() { "the token " span.mono { (token.get(..8).unwrap_or(token)) } }
        @else { (name) }
    }
}

/// Freezes the draft that was looked at.
pub async fn freeze(State(app): State<App>, Path(design): Path<String>, deed: Deed) -> Result<Response, Problem> {
    let once = deed.once(&format!("designs/{design}/draft/freeze"));
    let condition = DraftCondition { if_match: Some(vec![deed.form.get("draft").to_owned()]), if_absent: false };
    app.freeze(&deed.visitor.who, &design, &condition, &once).await?;
    Ok(Redirect::to(&format!("/designs/{design}")).into_response())
}

/// Lets it be written again, which ends what somebody else may be looking at.
pub async fn thaw(State(app): State<App>, Path(design): Path<String>, deed: Deed) -> Result<Response, Problem> {
    deed.visitor.who.may_publish()?;
    let review = app.review(&deed.visitor.who, &design).await?;
    if let Some(frozen) = review.frozen.as_ref().filter(|_| deed.answer() != Answer::Yes) {
        let what = html! {
            p { "Frozen for review on " (minute(&frozen.at)) " by " (who(&deed.visitor, &frozen.by, &frozen.by_name))
                ". The review ends: what was looked at can be changed, and it has to be frozen again before a second person can publish it." }
        };
        let question = Question {
            here: "/designs",
            title: format!("Thaw the draft of {design}?"),
            what,
            yes: "Yes, thaw it".to_owned(),
            no: Some(format!("/designs/{design}")),
        };
        return Ok(sure::ask(&app, &deed, &question));
    }
    let once = deed.once(&format!("designs/{design}/draft/thaw"));
    app.thaw(&deed.visitor.who, &design, &once).await?;
    Ok(Redirect::to(&format!("/designs/{design}")).into_response())
}
