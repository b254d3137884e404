//! Designs, their revisions, and what is found in a draft.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::designs::review;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{class, day, many, state, tag};
use crate::words::Words;
use axum::extract::{Path, State};
use axum::response::Response;
use matchmark_core::document::{Finding, Severity};
use matchmark_service::{FindingsView, NoticeView, Page, ReviewView, RevisionView, Role, ServiceError};
use maud::{Markup, html};

/// All designs.
pub async fn list(State(app): State<App>, visitor: Visitor) -> Result<Response, Problem> {
    let listed = app.designs(&visitor.who, &Page { after: String::new(), limit: 200 }).await?;
    let words = visitor.words;
    let (says, heads) = (&words.designs, &words.labels);
    let main = html! {
        h1 { (says.heading()) }
        @if listed.items.is_empty() { p { (says.none()) } }
        @else {
            table.stack {
                caption.unseen { (says.caption()) }
                thead { tr { th scope="col" { (heads.design()) } th scope="col" { (says.head_id()) } th scope="col" { (says.head_newest()) } } }
                tbody {
                    @for design in &listed.items {
                        tr {
                            th scope="row" data-is=(heads.design()) { a href={"/designs/" (design.id)} { (design.name) } }
                            td.mono data-is=(says.head_id()) { (design.id) }
                            td data-is=(says.head_newest()) { @match &design.latest_revision { Some(letter) => (letter), None => (says.not_published()) } }
                        }
                    }
                }
            }
        }
    };
    Ok(layout::page(&app, &visitor, "/designs", &says.heading(), &main))
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
    let words = visitor.words;
    let says = &words.designs;
    let main = html! {
        h1 { (view.name) " " span.mono.small { (view.id) } }
        (draft_in_short(&visitor, &design, draft.as_ref()))
        h2 { (says.revisions_heading()) }
        (revisions_table(words, &revisions))
        h2 { (says.notices_heading()) }
        (notices_table(words, &notices))
        @if visitor.who.role == Role::Publisher && revisions.len() > 1 {
            p { a.button.quiet href={"/designs/" (design) "/notices/new"} { (says.raise_link()) } }
        }
    };
    Ok(layout::page(&app, &visitor, "/designs", &view.name, &main))
}

fn draft_in_short(visitor: &Visitor, design: &str, draft: Option<&(FindingsView, ReviewView)>) -> Markup {
    let says = &visitor.words.designs;
    html! {
        h2 { (says.draft_heading()) }
        @match draft {
            None => p { (says.draft_none()) },
            Some((found, review)) => {
                (review::standing(visitor, review))
                @let (errors, warnings) = sums(visitor.words, found);
                p { @if found.all_choices { (says.found(errors, warnings)) } @else { (says.found_first_choices(errors, warnings)) } }
                div.row {
                    a.button.quiet href={"/designs/" (design) "/draft"} { (says.findings_link()) }
                    @if visitor.who.role == Role::Publisher { a.button href={"/designs/" (design) "/publish"} { (says.publish_link()) } }
                }
            }
        }
    }
}

fn revisions_table(words: &Words, revisions: &[RevisionView]) -> Markup {
    let (says, heads) = (&words.designs, &words.labels);
    html! {
        @if revisions.is_empty() { p { (says.revisions_none()) } } @else {
            table.stack {
                caption.unseen { (says.revisions_caption()) }
                thead { tr { th scope="col" { (heads.revision()) } th scope="col" { (heads.state()) } th scope="col" { (heads.published()) } th scope="col" { (heads.change()) } } }
                tbody {
                    @for revision in revisions.iter().rev() {
                        tr {
                            th scope="row" data-is=(heads.revision()) { a href={"/designs/" (revision.design) "/revisions/" (revision.letter)} { (says.revisions_letter(&revision.letter)) } }
                            td data-is=(heads.state()) { (state(words, revision.state)) }
                            td data-is=(heads.published()) { (day(&revision.published_at)) }
                            td data-is=(heads.change()) { @if let Some(matters) = revision.class { (class(words, matters)) " " } (revision.change_note) }
                        }
                    }
                }
            }
        }
    }
}

fn notices_table(words: &Words, notices: &[NoticeView]) -> Markup {
    let (says, heads) = (&words.designs, &words.labels);
    html! {
        @if notices.is_empty() { p { (says.notices_none()) } } @else {
            table.stack {
                caption.unseen { (says.notices_caption()) }
                thead { tr { th scope="col" { (heads.notice()) } th scope="col" { (heads.class()) } th scope="col" { (says.notices_head_step()) } th scope="col" { (heads.kits()) } th scope="col" { (says.notices_head_text()) } } }
                tbody {
                    @for notice in notices.iter().rev() {
                        tr {
                            th scope="row" data-is=(heads.notice()) { a href={"/notices?design=" (notice.design) "&notice=" (notice.number)} { (says.notices_number(notice.number)) } }
                            td data-is=(heads.class()) { (class(words, notice.class)) }
                            td data-is=(says.notices_head_step()) { (says.notices_step(&notice.from, &notice.to)) }
                            td data-is=(heads.kits()) { (says.notices_kits(many(notice.kits), notice.kits, notice.open, notice.acknowledged, notice.done)) }
                            td data-is=(says.notices_head_text()) { (notice.text) }
                        }
                    }
                }
            }
        }
    }
}

/// How many errors and warnings are found.
fn sums(words: &Words, found: &FindingsView) -> (String, String) {
    let FindingsView { errors, warnings, .. } = *found;
    (words.findings.errors(errors, errors), words.findings.warnings(warnings, warnings))
}

/// What is found in the draft.
pub async fn draft(State(app): State<App>, visitor: Visitor, Path(design): Path<String>) -> Result<Response, Problem> {
    let found = app.findings(&visitor.who, &design, true).await?;
    let words = visitor.words;
    let says = &words.findings;
    let main = html! {
        h1 { (says.heading(html! { span.mono { (design) } })) }
        @let (errors, warnings) = sums(visitor.words, &found);
        p { @if found.all_choices { (says.over_all(errors, warnings)) } @else { (says.over_first(errors, warnings)) } }
        (findings(words, &found.findings))
        p { a href={"/designs/" (design)} { (says.back()) } }
    };
    Ok(layout::page(&app, &visitor, "/designs", &says.heading(&design), &main))
}

/// Findings as a table.
pub fn findings(words: &Words, found: &[Finding]) -> Markup {
    let says = &words.findings;
    html! {
        @if found.is_empty() { p { (says.none()) } } @else {
            table.stack {
                caption.unseen { (says.caption()) }
                thead { tr { th scope="col" { (says.head_weight()) } th scope="col" { (says.head_action()) } th scope="col" { (says.head_code()) } th scope="col" { (says.head_place()) } } }
                tbody {
                    @for finding in found {
                        tr {
                            td data-is=(says.head_weight()) { (severity(words, finding.severity)) }
                            td data-is=(says.head_action()) { (finding.message) }
                            td.mono data-is=(says.head_code()) { (finding.code) }
                            td.mono data-is=(says.head_place()) { (finding.pointer) }
                        }
                    }
                }
            }
        }
    }
}

fn severity(words: &Words, severity: Severity) -> Markup {
    let says = &words.findings;
    match severity {
        Severity::Error => tag("tag stop", "\u{25a0}", says.error()),
        Severity::Warning => tag("tag good", "\u{25b2}", says.warning()),
        _ => tag("tag", "\u{25cb}", says.remark()),
    }
}
