//! Designs, their revisions, and what is found in a draft.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::designs::review;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{class, count, day, state};
use axum::extract::{Path, State};
use axum::response::Response;
use matchmark_core::document::{Finding, Severity};
use matchmark_service::{FindingsView, NoticeView, Page, ReviewView, RevisionView, Role, ServiceError};
use maud::{Markup, html};

/// All designs.
pub async fn list(State(app): State<App>, visitor: Visitor) -> Result<Response, Problem> {
    let listed = app.designs(&visitor.who, &Page { after: String::new(), limit: 200 }).await?;
    let main = html! {
        h1 { "Designs" }
        @if listed.items.is_empty() { p { "None yet. POST /v1/designs creates one; its draft is written through the API too." } }
        @else {
            table.stack {
                caption.unseen { "Designs in order of their id" }
                thead { tr { th scope="col" { "Design" } th scope="col" { "Id" } th scope="col" { "Newest revision" } } }
                tbody {
                    @for design in &listed.items {
                        tr {
                            th scope="row" data-is="Design" { a href={"/designs/" (design.id)} { (design.name) } }
                            td.mono data-is="Id" { (design.id) }
                            td data-is="Newest revision" { @match &design.latest_revision { Some(letter) => (letter), None => "not published" } }
                        }
                    }
                }
            }
        }
    };
    Ok(layout::page(&app, &visitor, "/designs", "Designs", &main))
}

/// One design.
pub async fn read(State(app): State<App>, visitor: Visitor, Path(design): Path<String>) -> Result<Response, Problem> {
    let view = app.design(&visitor.who, &design).await?;
    let revisions = app.revisions(&visitor.who, &design).await?;
    let notices = app.notices(&visitor.who, &design).await?;
    let draft = match app.findings(&visitor.who, &design, false).await {
        Ok(findings) => Some((findings, app.review(&visitor.who, &design).await?)),
        Err(ServiceError::NoDraft(_)) => None,
        Err(error) => return Err(error.into()),
    };
    let main = html! {
        h1 { (view.name) " " span.mono.small { (view.id) } }
        (draft_in_short(&visitor, &design, draft.as_ref()))
        h2 { "Revisions" }
        (revisions_table(&revisions))
        h2 { "Notices" }
        (notices_table(&notices))
        @if visitor.who.role == Role::Publisher && revisions.len() > 1 {
            p { a.button.quiet href={"/designs/" (design) "/notices/new"} { "Raise a notice" } }
        }
    };
    Ok(layout::page(&app, &visitor, "/designs", &view.name, &main))
}

fn draft_in_short(visitor: &Visitor, design: &str, draft: Option<&(FindingsView, ReviewView)>) -> Markup {
    html! {
        h2 { "Draft" }
        @match draft {
            None => p { "None yet." },
            Some((found, review)) => {
                (review::standing(visitor, review))
                p { (found.errors) " errors, " (found.warnings) " warnings" @if !found.all_choices { " " (over(found)) } "." }
                div.row {
                    a.button.quiet href={"/designs/" (design) "/draft"} { "Read the findings" }
                    @if visitor.who.role == Role::Publisher { a.button href={"/designs/" (design) "/publish"} { "Publish" } }
                }
            }
        }
    }
}

fn revisions_table(revisions: &[RevisionView]) -> Markup {
    html! {
        @if revisions.is_empty() { p { "None published yet." } } @else {
            table.stack {
                caption.unseen { "Revisions, newest first" }
                thead { tr { th scope="col" { "Revision" } th scope="col" { "State" } th scope="col" { "Published" } th scope="col" { "Change" } } }
                tbody {
                    @for revision in revisions.iter().rev() {
                        tr {
                            th scope="row" data-is="Revision" { a href={"/designs/" (revision.design) "/revisions/" (revision.letter)} { "Revision " (revision.letter) } }
                            td data-is="State" { (state(revision.state)) }
                            td data-is="Published" { (day(&revision.published_at)) }
                            td data-is="Change" { @if let Some(matters) = revision.class { (class(matters)) " " } (revision.change_note) }
                        }
                    }
                }
            }
        }
    }
}

fn notices_table(notices: &[NoticeView]) -> Markup {
    html! {
        @if notices.is_empty() { p { "None raised." } } @else {
            table.stack {
                caption.unseen { "Notices, newest first" }
                thead { tr { th scope="col" { "Notice" } th scope="col" { "Class" } th scope="col" { "From, to" } th scope="col" { "Kits" } th scope="col" { "Text" } } }
                tbody {
                    @for notice in notices.iter().rev() {
                        tr {
                            th scope="row" data-is="Notice" { a href={"/notices?design=" (notice.design) "&notice=" (notice.number)} { "Notice " (notice.number) } }
                            td data-is="Class" { (class(notice.class)) }
                            td data-is="From, to" { (notice.from) " to " (notice.to) }
                            td data-is="Kits" { (count(notice.kits, "kit", "kits")) ": " (notice.open) " open, " (notice.acknowledged) " seen, " (notice.done) " done" }
                            td data-is="Text" { (notice.text) }
                        }
                    }
                }
            }
        }
    }
}

/// What is found in the draft.
pub async fn draft(State(app): State<App>, visitor: Visitor, Path(design): Path<String>) -> Result<Response, Problem> {
    let found = app.findings(&visitor.who, &design, true).await?;
    let main = html! {
        h1 { "Findings of the draft of " span.mono { (design) } }
        p { (found.errors) " errors, " (found.warnings) " warnings, " (over(&found)) ". Errors stop publishing; warnings must be acknowledged." }
        (findings(&found.findings))
        p { a href={"/designs/" (design)} { "Back to the design" } }
    };
    Ok(layout::page(&app, &visitor, "/designs", &format!("Findings of the draft of {design}"), &main))
}

/// Which choices were looked at, in words.
fn over(found: &FindingsView) -> &'static str {
    if found.all_choices { "over all choices" } else { "with the first choice of each option alone" }
}

/// Findings as a table.
pub fn findings(found: &[Finding]) -> Markup {
    html! {
        @if found.is_empty() { p { "Nothing was found." } } @else {
            table.stack {
                caption.unseen { "Findings, errors first" }
                thead { tr { th scope="col" { "Weight" } th scope="col" { "What to do" } th scope="col" { "Code" } th scope="col" { "Place" } } }
                tbody {
                    @for finding in found {
                        tr {
                            td data-is="Weight" { (severity(finding.severity)) }
                            td data-is="What to do" { (finding.message) }
                            td.mono data-is="Code" { (finding.code) }
                            td.mono data-is="Place" { (finding.pointer) }
                        }
                    }
                }
            }
        }
    }
}

fn severity(severity: Severity) -> Markup {
    match severity {
        Severity::Error => html! { span.tag.stop { span aria-hidden="true" { "\u{25a0} " } "error" } },
        Severity::Warning => html! { span.tag.good { span aria-hidden="true" { "\u{25b2} " } "warning" } },
        _ => html! { span.tag { span aria-hidden="true" { "\u{25cb} " } "remark" } },
    }
}
