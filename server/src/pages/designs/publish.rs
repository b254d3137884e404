//! Publishing a draft: what it would do to the kits there are, and the form that does it.

use crate::http::App;
use crate::http::problem::Problem;
use crate::http::query::escaped;
use crate::pages::designs::list::findings;
use crate::pages::designs::review;
use crate::pages::form::fields::{FormFields, area, choose};
use crate::pages::form::submission::Submission;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{class_named, classes, counts, many};
use crate::words::Words;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_core::document::Severity;
use matchmark_core::pack::say;
use matchmark_service::{DraftCondition, FindingsView, Publish, RevisionState, ServiceError, Touched, TouchedGroup};
use maud::{Markup, html};
use std::collections::BTreeSet;

/// The form, after what is found and whom it touches.
pub async fn form(State(app): State<App>, visitor: Visitor, Path(design): Path<String>) -> Result<Response, Problem> {
    show(&app, &visitor, &design, FormFields::empty(visitor.words)).await
}

/// Publishes the draft that was looked at, or shows the form again with what stands in the way.
pub async fn publish(
    State(app): State<App>,
    Path(design): Path<String>,
    submission: Submission,
) -> Result<Response, Problem> {
    let once = submission.once(&format!("designs/{design}/revisions"));
    let Submission { visitor, form, .. } = submission;
    let publish = Publish {
        change_note: form.text("change_note"),
        class: class_named(form.get("class")),
        acknowledge: form.all("acknowledge").map(str::to_owned).collect(),
        supersedes: Some(form.text("supersedes")).filter(|letter| !letter.is_empty()),
    };
    let condition = DraftCondition { if_match: Some(vec![form.get("draft").to_owned()]), if_absent: false };
    match app.publish(&visitor.who, &design, publish, &condition, &once).await {
        Ok(revision) => Ok(Redirect::to(&format!("/designs/{design}/revisions/{}", revision.letter)).into_response()),
        Err(error) => {
            let again = show(&app, &visitor, &design, form.refused(error)?).await?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, again).into_response())
        }
    }
}

async fn show(app: &App, visitor: &Visitor, design: &str, form: FormFields) -> Result<Response, Problem> {
    visitor.who.may_publish()?;
    // First of all: a draft written meanwhile is then another than the one that is published.
    let draft = app.draft(&visitor.who, design).await?;
    let found = app.findings(&visitor.who, design, true).await?;
    let review = app.review(&visitor.who, design).await?;
    let revisions = app.revisions(&visitor.who, design).await?;
    let in_force = revisions.iter().find(|revision| revision.state == RevisionState::Published);
    let touched = match app.touched(&visitor.who, design).await {
        Ok(touched) => Some(touched).filter(|_| found.errors == 0),
        Err(ServiceError::DesignHasErrors(_)) => None,
        Err(error) => return Err(error.into()),
    };
    let words = visitor.words;
    let says = &words.publish;
    let main = html! {
        h1 { (says.heading(html! { span.mono { (design) } })) }
        (form.summary())
        @match &touched {
            None => { p { (says.has_errors()) } (findings(words, &found.findings)) }
            Some(touched) => {
                h2 { (says.touched_heading()) }
                (whom(words, touched))
                h2 { (says.found_heading()) }
                (findings(words, &found.findings))
                h2 { (says.form_heading()) }
                (review::condition(words, &review))
                @if let Some(revision) = in_force { p { (says.supersedes(&revision.letter)) } }
                p { (says.about()) }
                @if !review.waits_for_another { form method="post" action={"/designs/" (design) "/publish"} {
                    (visitor.mark_once())
                    @if let Some(revision) = in_force { input type="hidden" name="supersedes" value=(revision.letter); }
                    input type="hidden" name="draft" value=(draft.sha256);
                    (area(&form, "change_note", says.note_label(), says.note_hint(), 4))
                    @if !revisions.is_empty() { (choose(&form, "class", says.class_label(), "", &classes(words))) }
                    (warnings(words, &found, &form))
                    button type="submit" { (says.button()) }
                } }
            }
        }
        p { a href={"/designs/" (design)} { (says.back()) } }
    };
    Ok(layout::page(app, visitor, "/designs", &says.heading(design), &main))
}

/// A box to tick for each code of a warning.
fn warnings(words: &Words, found: &FindingsView, form: &FormFields) -> Markup {
    let warnings = found.findings.iter().filter(|finding| finding.severity == Severity::Warning);
    let codes: BTreeSet<&str> = warnings.map(|finding| finding.code.as_str()).collect();
    html! {
        @if !codes.is_empty() {
            fieldset id="acknowledge" {
                legend { (words.publish.warnings_legend()) }
                @for code in codes {
                    label.choice {
                        input type="checkbox" name="acknowledge" value=(code) checked[form.all("acknowledge").any(|ticked| ticked == code)];
                        span.mono { (code) }
                    }
                }
            }
        }
    }
}

fn whom(words: &Words, touched: &Touched) -> Markup {
    let (says, heads) = (&words.publish, &words.labels);
    let (kits, untouched) = (touched.kits_touched, touched.kits_untouched);
    html! {
        p { (says.touched(many(kits), kits, untouched, kits + untouched)) }
        @if !touched.groups.is_empty() {
            table.stack {
                caption.unseen { (says.caption()) }
                thead { tr { th scope="col" { (heads.revision()) } th scope="col" { (heads.kits()) } th scope="col" { (says.head_parts()) } th scope="col" { (says.head_serials()) } } }
                tbody {
                    @for group in &touched.groups {
                        tr {
                            th scope="row" data-is=(heads.revision()) { (group.revision) @for (option, choice) in group.choices.as_object().into_iter().flatten() { ", " (option) " " (choice.as_str().unwrap_or_default()) } }
                            td data-is=(heads.kits()) { (group.kits) }
                            td data-is=(says.head_parts()) { @if group.comparable { (counts(words, &group.counts)) } @else { (says.not_comparable()) } }
                            td data-is=(says.head_serials()) { (serials(words, &touched.design, group)) }
                        }
                    }
                }
            }
            @for group in touched.groups.iter().filter(|group| group.touched) {
                @if let Some(changes) = &group.changes {
                    details {
                        summary { (says.changes_summary(&group.revision)) }
                        ul { @for part in &changes.parts { li { (says.change_line(html! { strong { (part.member) } }, say::part_change(part))) } } }
                    }
                }
            }
        }
    }
}

/// The serials of a group: as many as are named, and the way to all of them.
fn serials(words: &Words, design: &str, group: &TouchedGroup) -> Markup {
    let left = group.kits - i64::try_from(group.serials.len()).unwrap_or(i64::MAX);
    let choices = escaped(&group.choices.to_string());
    let says = &words.publish;
    html! {
        span.mono { (group.serials.join(", ")) }
        @if left > 0 { " " (says.more(left)) }
        br;
        a href={"/kits?design=" (design) "&revision=" (group.revision) "&choices=" (choices)} {
            @if group.kits == 1 { (says.list_it()) } @else { (says.list_all(group.kits)) }
        }
    }
}
